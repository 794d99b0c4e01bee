//! The form of a pencil log, to be filled in after the dive.

use super::keys::pencil as keys;
use crate::plan::{Diver, Plan};
use crate::quantity::show::Show;
use crate::quantity::{GaugePressure, Kind, UnitSystem};
use crate::rules::ranges::FILL;

/// Comments stand from this column on, where what is before them leaves room.
const COMMENTS: usize = 28;

/// The form of what a team writes down of a dive: a table for each diver of the plan, to be filled
/// in and read by [`read_pencil`](super::read_pencil). Names, fills and the splash are the plan's;
/// the rest is empty, with an example beside it in the plan's units and those of each gauge.
///
/// # Example
/// ```
/// use hangbar::plan_file::{pencil_form, read, read_pencil};
/// let plan = read(
///     r#"
///     profile = { depth = "18 m", bottom_time = "40 min" }
///     [[diver]]
///     name = "Ines"
///     sac = "15 L/min"
///     cylinder = { size = "12 L", fill = "200 bar" }
///     "#,
/// )?;
/// let form = pencil_form(&plan);
/// let filled = form
///     .replace("greatest_depth = \"\"", "greatest_depth = \"17.5 m\"")
///     .replace("bottom_time = \"\"", "bottom_time = \"38 min\"")
///     .replace("end_pressure = \"\"", "end_pressure = \"70 bar\"");
/// assert_eq!(read_pencil(&filled, &plan)?[0].start.as_bar(), 200.0);
/// assert!(read_pencil(&form, &plan).is_err());
/// # Ok::<(), hangbar::plan_file::PlanErrors>(())
/// ```
#[must_use]
pub fn pencil_form(plan: &Plan) -> String {
    let title = plan.title().map(quoted);
    let mut form = format!(
        "# {}: what really happened.\n\
         # Fill in what the slates say, in any units, each with its own. Put right what is there\n\
         # already: it is the plan's. Take out the whole [[diver]] of who did not dive.\n",
        title.as_deref().unwrap_or("A dive")
    );
    for diver in plan.divers() {
        form.push_str("\n[[diver]]\n");
        for (key, value, comment) in lines(plan, diver) {
            let entry = format!("{key} = {}", quoted(&value));
            form.push_str(&match comment {
                comment if comment.is_empty() => format!("{entry}\n"),
                comment => format!("{entry:<COMMENTS$} # {comment}\n"),
            });
        }
    }
    form
}

/// Key, value and comment of each line of a diver's table.
fn lines(plan: &Plan, diver: &Diver) -> [(&'static str, String, String); 9] {
    let gauge = diver.gauge.unwrap_or(plan.units());
    let (depth, average) = match plan.units() {
        UnitSystem::Metric => ("24.5 m", "14.2 m"),
        UnitSystem::Imperial => ("80 ft", "47 ft"),
    };
    let end = match gauge {
        UnitSystem::Metric => "70 bar",
        UnitSystem::Imperial => "1000 psi",
    };
    let (time_in, about_time_in) = match plan.splash() {
        Some(splash) => (splash.to_string(), "as planned: put it right, or empty it"),
        None => (String::new(), "as \"09:40\"; may stay empty"),
    };
    let empty = |key, comment: String| (key, String::new(), comment);
    [
        (keys::NAME.name, diver.name.clone(), String::new()),
        empty(keys::GREATEST.name, format!("as \"{depth}\"")),
        empty(
            keys::BOTTOM_TIME.name,
            "as \"27 min\", surface to leaving the last level".to_owned(),
        ),
        (keys::TIME_IN.name, time_in, about_time_in.to_owned()),
        empty(
            keys::TIME_OUT.name,
            "as \"10:22\"; may stay empty".to_owned(),
        ),
        empty(
            keys::RUN_TIME.name,
            "as \"42 min\", surface to surface; may stay empty".to_owned(),
        ),
        (
            keys::START.name,
            start_pressure(diver.cylinder.fill, gauge),
            "as planned: put it right".to_owned(),
        ),
        empty(keys::END.name, format!("as \"{end}\"")),
        empty(
            keys::AVERAGE.name,
            format!("as \"{average}\", if a computer shows it; may stay empty"),
        ),
    ]
}

/// A fill as its gauge shows it; in full at the ends of what a cylinder may hold, where the figure
/// of the gauge is past them.
fn start_pressure(fill: GaugePressure, gauge: UnitSystem) -> String {
    let shown = Show(gauge).pressure_read(fill);
    let is_accepted = Kind::GaugePressure.parse(&shown);
    if is_accepted.is_ok_and(|bar| FILL.contains(bar)) {
        shown
    } else {
        fill.to_string()
    }
}

/// A text in quotes as TOML has it, whatever is in it.
fn quoted(text: &str) -> String {
    toml::Value::from(text).to_string()
}
