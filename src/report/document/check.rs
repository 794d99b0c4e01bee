//! `hangbar/check/1`: a row for each plan that was checked.

use std::ffi::OsStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::errors::{Problem, file_bytes_hex};
use super::nullable::nullable;
use super::verdict::{Finding, Verdict};
use crate::briefing;

/// A plan that was checked, or something that was not.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Check {
    /// Name and number of the row's form.
    #[schemars(extend("const" = Check::SCHEMA))]
    pub schema: String,
    /// Name of the file or folder, as it was named or found.
    pub file: String,
    /// The bytes of a name that is not UTF-8, two digits each; null for all others.
    #[serde(deserialize_with = "nullable")]
    pub file_bytes_hex: Option<String>,
    /// The plan's title; null where it has none or cannot be read.
    #[serde(deserialize_with = "nullable")]
    pub title: Option<String>,
    /// What comes of it: `go`, `no-go`, `schedule-only`, `unusable`, `failed` or `skipped`.
    pub verdict: Verdict,
    /// What `brief` would end with; null where skipped.
    #[serde(deserialize_with = "nullable")]
    pub exit_status: Option<i32>,
    /// Why it was skipped: `hidden-file`, `hidden-folder`, `too-deep` (more than 16 folders),
    /// `looked-into-already`, `link-to-nowhere` or `no-file`; null where it was not.
    #[serde(deserialize_with = "nullable")]
    pub reason: Option<SkipReason>,
    /// What there is to say about it; empty where there is no briefing.
    pub findings: Vec<Finding>,
    /// What is wrong with it; empty where there is a briefing.
    pub errors: Vec<Problem>,
    /// How many errors more there are than are told.
    pub more_errors: usize,
}

/// Why something that may be or hold a plan was not checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SkipReason {
    /// A file whose name says so.
    HiddenFile,
    /// A folder whose name says so.
    HiddenFolder,
    /// A folder in more than 16 others.
    TooDeep,
    /// A folder that a link, or a loop of links, leads to once more.
    LookedIntoAlready,
    /// A link to nothing that is there.
    LinkToNowhere,
    /// A pipe or a device: reading it might never end.
    NoFile,
}

impl Check {
    /// Name and number of the row's form.
    pub const SCHEMA: &'static str = "hangbar/check/1";

    /// A plan that there is a briefing of.
    #[must_use]
    pub fn briefed(file: &OsStr, briefing: &briefing::Briefing, exit_status: i32) -> Self {
        let units = briefing.plan.units();
        let findings = briefing.findings.iter();
        Self {
            title: briefing.plan.title().map(str::to_owned),
            exit_status: Some(exit_status),
            findings: findings.map(|one| Finding::new(one, units)).collect(),
            ..Self::new(file, briefing.verdict().into())
        }
    }

    /// A plan that there is none of.
    #[must_use]
    pub fn refused(
        file: &OsStr,
        verdict: Verdict,
        exit_status: i32,
        (errors, more_errors): (Vec<Problem>, usize),
    ) -> Self {
        Self {
            exit_status: Some(exit_status),
            errors,
            more_errors,
            ..Self::new(file, verdict)
        }
    }

    /// What was not looked at.
    #[must_use]
    pub fn skipped(file: &OsStr, reason: SkipReason) -> Self {
        Self {
            reason: Some(reason),
            ..Self::new(file, Verdict::Skipped)
        }
    }

    fn new(file: &OsStr, verdict: Verdict) -> Self {
        Self {
            schema: Self::SCHEMA.to_owned(),
            file: file.to_string_lossy().into_owned(),
            file_bytes_hex: file_bytes_hex(file),
            title: None,
            verdict,
            exit_status: None,
            reason: None,
            findings: Vec::new(),
            errors: Vec::new(),
            more_errors: 0,
        }
    }
}
