//! Sheets of paper: a report and its picture as one HTML file that a browser prints.

mod block;
mod calls;
mod escape;
mod flow;
mod headline;
mod large;
mod measure;
mod profile;
mod sheet;
mod shell;
mod skipper;
mod slate;

pub(crate) use sheet::Drawing;

/// A size of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Paper {
    /// Whatever the printer has: all fits A4 and Letter.
    Any,
    A4,
    Letter,
}

impl Paper {
    const fn rule(self) -> &'static str {
        match self {
            Self::Any => "margin:8mm",
            Self::A4 => "size:A4;margin:8mm",
            Self::Letter => "size:letter;margin:8mm",
        }
    }
}

/// What is printed of each drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Form {
    /// All that a guide takes to the rail.
    Sheet,
    /// Half a page for the wheelhouse.
    Skipper,
    /// The way up alone, on A6.
    Slate,
}

/// Drawings one after the other, as one document.
pub(crate) fn printed(title: &str, form: Form, paper: Paper, drawings: &[Drawing<'_>]) -> String {
    let each = drawings.iter().copied();
    let (page, wide, sections): (_, _, Vec<_>) = match form {
        Form::Sheet => (
            paper.rule(),
            "194mm",
            each.flat_map(sheet::sections).collect(),
        ),
        Form::Skipper => (paper.rule(), "194mm", each.map(skipper::section).collect()),
        Form::Slate => (
            slate::PAGE,
            slate::SECTION,
            each.map(slate::section).collect(),
        ),
    };
    shell::document(title, page, wide, &sections)
}
