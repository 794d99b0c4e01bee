//! `hangbar/errors/1`: what is wrong, in place of any other document.

use std::ffi::OsStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::nullable::nullable;
use super::verdict::Verdict;
use crate::plan_file;

/// All that is wrong with a plan or a command.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Errors {
    /// Name and number of the document's form.
    #[schemars(extend("const" = Errors::SCHEMA))]
    pub schema: String,
    /// `unusable` or `failed`.
    pub verdict: Verdict,
    /// 2 or 3.
    pub exit_status: i32,
    /// The plan as it was named, `-` for standard input; of a `day` the plan that it is about;
    /// null where that is all of them or an option, and where `limits` or `mix` has none.
    #[serde(deserialize_with = "nullable")]
    pub file: Option<String>,
    /// The bytes of a name that is not UTF-8, two digits each; null for all others.
    #[serde(deserialize_with = "nullable")]
    pub file_bytes_hex: Option<String>,
    /// What is wrong, in the order of the file; options last; of a plan the first 20.
    pub errors: Vec<Problem>,
    /// How many errors more there are than are told.
    pub more_errors: usize,
}

impl Errors {
    /// Name and number of the document's form.
    pub const SCHEMA: &'static str = "hangbar/errors/1";

    /// What is wrong with a file, or with a command that has none, and how many errors more there are.
    #[must_use]
    pub fn new(
        verdict: Verdict,
        exit_status: i32,
        file: Option<&OsStr>,
        (errors, more_errors): (Vec<Problem>, usize),
    ) -> Self {
        Self {
            schema: Self::SCHEMA.to_owned(),
            verdict,
            exit_status,
            file: file.map(|file| file.to_string_lossy().into_owned()),
            file_bytes_hex: file.and_then(file_bytes_hex),
            errors,
            more_errors,
        }
    }
}

/// One thing wrong.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Problem {
    /// Line of the file, from 1; null where it is no place in it.
    #[serde(deserialize_with = "nullable")]
    pub line: Option<usize>,
    /// Column in characters, from 1; null likewise.
    #[serde(deserialize_with = "nullable")]
    pub column: Option<usize>,
    /// The table, as `[[diver]] 2 cylinder`; null at the top of the file or without a place.
    #[serde(deserialize_with = "nullable")]
    pub table: Option<String>,
    /// The key; null where none is meant, or nobody knows it.
    #[serde(deserialize_with = "nullable")]
    pub key: Option<String>,
    /// The option that it came from, as `--depth`; null for the file's own.
    #[serde(deserialize_with = "nullable")]
    pub option: Option<String>,
    /// What was found; standard error says the same after `error: `.
    pub message: String,
    /// What is accepted; null where the message says all.
    #[serde(deserialize_with = "nullable")]
    pub accepted: Option<String>,
    /// The word that was probably meant; null where none is near.
    #[serde(deserialize_with = "nullable")]
    pub meant: Option<String>,
}

impl Problem {
    /// What has no place in a plan.
    #[must_use]
    pub const fn without_place(message: String) -> Self {
        Self {
            line: None,
            column: None,
            table: None,
            key: None,
            option: None,
            message,
            accepted: None,
            meant: None,
        }
    }

    /// What is wrong with a plan beside others, and the table and the key that it is about.
    #[must_use]
    pub fn of_a_day(
        message: String,
        accepted: Option<String>,
        key: Option<(&'static str, &'static str)>,
    ) -> Self {
        let table = key
            .map(|(table, _)| table)
            .filter(|table| !table.is_empty());
        Self {
            table: table.map(str::to_owned),
            key: key.map(|(_, key)| key.to_owned()),
            accepted,
            ..Self::without_place(message)
        }
    }

    /// What is wrong with a record: its line, and the column or element that it is about.
    #[must_use]
    pub fn of_a_record(
        message: String,
        accepted: String,
        line: Option<u64>,
        key: Option<String>,
    ) -> Self {
        Self {
            line: line.and_then(|line| usize::try_from(line).ok()),
            key,
            accepted: Some(accepted),
            ..Self::without_place(message)
        }
    }

    /// What is wrong with an option.
    #[must_use]
    pub fn of_option(option: &str, message: String, accepted: Option<String>) -> Self {
        Self {
            option: Some(option.to_owned()),
            accepted,
            ..Self::without_place(message)
        }
    }
}

impl From<&plan_file::Problem> for Problem {
    fn from(problem: &plan_file::Problem) -> Self {
        Self {
            line: problem.position.as_ref().map(|at| at.line),
            column: problem.position.as_ref().map(|at| at.column),
            table: (!problem.table.is_empty()).then(|| problem.table.clone()),
            key: problem.key.clone(),
            option: problem.overridden_by.map(str::to_owned),
            message: problem.message.clone(),
            accepted: problem.accepted.clone(),
            meant: problem.meant.clone(),
        }
    }
}

/// The bytes of a file name that is not UTF-8, two hexadecimal digits each; `None` where the name
/// itself says all.
#[must_use]
pub fn file_bytes_hex(name: &OsStr) -> Option<String> {
    let hex = || {
        let bytes = name.as_encoded_bytes().iter();
        bytes.map(|byte| format!("{byte:02x}")).collect()
    };
    name.to_str().is_none().then(hex)
}
