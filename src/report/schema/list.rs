//! Whose schemas there are.

use serde_json::Value;

use super::super::document;
use super::document_schema::schema_of;
use super::file_schema::{Blank, schema_of_file};
use crate::plan_file::{PLAN_KEYS, RECORD_KEYS};

/// Makes the list of one line for each schema: name, what it is of, the schema.
macro_rules! schemas {
    ($($(#[$about:meta])+ $name:ident: $word:literal => $schema:expr;)+) => {
        /// A file or a document that has a schema.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        #[non_exhaustive]
        pub enum SchemaOf {
            $($(#[$about])+ $name),+
        }

        impl SchemaOf {
            /// All of them: the files first, then the documents.
            pub const ALL: &[Self] = &[$(Self::$name),+];

            /// Its name on the command line.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self {
                    $(Self::$name => $word),+
                }
            }

            /// The schema.
            ///
            /// # Example
            /// ```
            /// use hangbar::report::SchemaOf;
            /// let schema = SchemaOf::Briefing.schema();
            /// assert_eq!(schema["properties"]["schema"]["const"], "hangbar/briefing/1");
            /// assert_eq!(schema["$defs"]["Segment"]["properties"]["to_m"]["x-unit"], "m");
            /// let plan = SchemaOf::Plan.schema();
            /// assert_eq!(plan["properties"]["units"]["enum"][1], "imperial");
            /// ```
            #[must_use]
            pub fn schema(self) -> Value {
                match self {
                    $(Self::$name => $schema),+
                }
            }
        }
    };
}

schemas! {
    /// A plan file.
    Plan: "plan" => schema_of_file("hangbar plan file", &PLAN_KEYS, Blank::Refused);
    /// A record as divers write it down.
    Record: "record" => schema_of_file("hangbar record file", &RECORD_KEYS, Blank::LeftOut);
    /// `hangbar/briefing/1`.
    Briefing: "briefing" => schema_of::<document::Briefing>(document::Briefing::SCHEMA);
    /// `hangbar/what-if/1`.
    WhatIf: "what-if" => schema_of::<document::WhatIf>(document::WhatIf::SCHEMA);
    /// `hangbar/day/1`.
    Day: "day" => schema_of::<document::Day>(document::Day::SCHEMA);
    /// `hangbar/debrief/1`.
    Debrief: "debrief" => schema_of::<document::Debrief>(document::Debrief::SCHEMA);
    /// `hangbar/check/1`: a row.
    Check: "check" => schema_of::<document::Check>(document::Check::SCHEMA);
    /// `hangbar/errors/1`.
    Errors: "errors" => schema_of::<document::Errors>(document::Errors::SCHEMA);
    /// `hangbar/limits/1`.
    Limits: "limits" => schema_of::<document::Limits>(document::Limits::SCHEMA);
    /// `hangbar/mix/1`.
    Mix: "mix" => schema_of::<document::Mix>(document::Mix::SCHEMA);
    /// `hangbar/trace/1`.
    Trace: "trace" => schema_of::<document::Trace>(document::Trace::SCHEMA);
    /// `hangbar/explain/1`.
    Explain: "explain" => schema_of::<document::Explain>(document::Explain::SCHEMA);
    /// `hangbar/keys/1`.
    Keys: "keys" => schema_of::<document::Keys>(document::Keys::SCHEMA);
}

impl SchemaOf {
    /// The one of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        let mut all = Self::ALL.iter().copied();
        all.find(|one| one.name() == name)
    }
}
