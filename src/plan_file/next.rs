//! A plan file written again for the next dive of the day.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::earlier::{append_items, append_tables, list_of, quoted, rounded};
use super::problem::PlanErrors;
use super::read::read;
use super::splice::Splices;
use crate::letters::composed;
use crate::plan::{EarlierDive, Plan, TimeOfDay};
use crate::quantity::{BreathingRate, Time, UnitSystem};
use crate::rules::ranges::{EARLIER_DIVES, TooMany};

/// What stands beside a breathing rate that has been changed.
const SAID: &str = "measured";
/// A rate this share of a step past it is still that step.
const NOISE: f64 = 1e-9;
/// Two depths, times or rates that are the same but for rounding.
const SAME: f64 = 1e-6;

/// What the plan of the next dive takes over from the dive before it.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct NextPlan {
    /// What divers of the plan breathe, by name; the others stay as they are.
    pub breathing: Vec<(String, BreathingRate)>,
    /// Dives that come after those that the plan has, the last one right before it.
    pub before: Vec<EarlierDive>,
    /// The next splash; `None` where nobody knows it.
    pub splash: Option<TimeOfDay>,
}

impl NextPlan {
    /// Who breathes what, what has been dived, and when the next dive begins.
    #[must_use]
    pub const fn new(
        breathing: Vec<(String, BreathingRate)>,
        before: Vec<EarlierDive>,
        splash: Option<TimeOfDay>,
    ) -> Self {
        Self {
            breathing,
            before,
            splash,
        }
    }

    /// The same with each name as a plan has it.
    fn composed(&self) -> Self {
        let mut next = self.clone();
        let dived = next.before.iter_mut().flat_map(|dive| &mut dive.divers);
        let breathing = next.breathing.iter_mut().map(|(name, _)| name);
        for name in breathing.chain(dived.flatten()) {
            *name = composed(name);
        }
        next
    }
}

/// Why there is no plan of the next dive.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NextPlanError {
    /// The text is no plan to begin with.
    #[error("there is no plan to write again: {0}")]
    NoPlan(#[source] PlanErrors),
    /// Nobody in the plan is called so, or a name stands twice.
    #[error("{name} is not a diver of the plan who is given one breathing rate")]
    NoSuchDiver {
        /// The name.
        name: String,
    },
    /// More earlier dives than a plan may have.
    #[error(transparent)]
    ManyEarlierDives(#[from] TooMany),
    /// The plan of the next dive is refused as any other would be.
    #[error("the next dive is no plan: {0}")]
    Refused(#[from] PlanErrors),
    /// What was written does not read back as what was meant: a defect of this program.
    #[error("internal check failed: {what} of the next plan did not come out as meant")]
    NotAsMeant {
        /// What it is.
        what: &'static str,
    },
}

/// Writes a plan file again for the next dive of the day.
///
/// Breathing rates become free volumes in the plan's units, rounded up to 0.1 L/min or 0.01 cuft/min.
/// Earlier dives come after those that are there: depths rounded up to 0.1 m or 1 ft, times up to
/// 0.1 min, the surface interval down to whole minutes. The splash is the next one; where nobody
/// knows it, its line goes. All else stays byte for byte as it was, comments and line ends among it.
///
/// What comes out has been read again, and holds what was asked for.
///
/// # Errors
/// [`NextPlanError`].
///
/// # Example
/// ```
/// use hangbar::plan::EarlierDive;
/// use hangbar::plan_file::{NextPlan, next_plan, read};
/// use hangbar::quantity::{BreathingRate, Depth, Time};
/// use hangbar::rules::Level;
///
/// let text = r#"
/// splash = "09:40"
/// [profile]
/// depth = "18 m" # the ledge
/// bottom_time = "30 min"
/// [[diver]]
/// name = "Ines"
/// sac = "15 L/min"
/// cylinder = { size = "12 L", fill = "200 bar" }
/// "#;
/// let level = Level { depth: Depth::from_m(19.04), time: Time::from_min(31.0) };
/// let dive = EarlierDive::new(vec![level], Time::from_min(75.5));
/// let breathing = vec![("Ines".to_owned(), BreathingRate::from_l_min(17.22))];
/// let next = next_plan(text, &NextPlan::new(breathing, vec![dive], None))?;
/// assert!(next.contains("sac = \"17.3 L/min\" # measured\n"));
/// assert!(next.contains("depth = \"18 m\" # the ledge\n") && !next.contains("splash"));
/// assert!(next.ends_with(
///     "# as it was dived\n[[before]]\ndepth = \"19.1 m\"\nbottom_time = \"31 min\"\n\
///      surface_interval = \"75 min\"\n"
/// ));
/// let nobody = vec![("Tom".to_owned(), BreathingRate::from_l_min(17.22))];
/// assert!(next_plan(text, &NextPlan::new(nobody, Vec::new(), None)).is_err());
/// # Ok::<(), hangbar::plan_file::NextPlanError>(())
/// ```
pub fn next_plan(text: &str, next: &NextPlan) -> Result<String, NextPlanError> {
    let plan = read(text).map_err(NextPlanError::NoPlan)?;
    let next = &next.composed();
    check(&plan, next)?;
    let rates = (plan.rules().descent_rate, plan.rules().ascent.rate);
    let before = next.before.iter();
    let meant = NextPlan {
        breathing: breathing_up(&next.breathing, plan.units()),
        before: before
            .map(|dive| rounded(dive, plan.units(), rates))
            .collect(),
        splash: next.splash,
    };
    let written = write(text, plan.units(), &meant);
    let again = read(&written)?;
    check_written(&plan, &again, &meant)?;
    check_enough(next, &meant)?;
    Ok(written)
}

/// Refuses what no plan could take.
fn check(plan: &Plan, next: &NextPlan) -> Result<(), NextPlanError> {
    for (index, (name, _)) in next.breathing.iter().enumerate() {
        let is_known = plan.divers().iter().any(|diver| diver.name == *name);
        let is_given = next.breathing[..index]
            .iter()
            .any(|(given, _)| given == name);
        if !is_known || is_given {
            return Err(NextPlanError::NoSuchDiver { name: name.clone() });
        }
    }
    Ok(EARLIER_DIVES.check(plan.before().len() + next.before.len())?)
}

/// Steps of a breathing rate that a file writes, in one of its units.
const fn steps(units: UnitSystem) -> f64 {
    match units {
        UnitSystem::Metric => 10.0,
        UnitSystem::Imperial => 100.0,
    }
}

const fn in_units(rate: BreathingRate, units: UnitSystem) -> f64 {
    match units {
        UnitSystem::Metric => rate.as_l_min(),
        UnitSystem::Imperial => rate.as_cuft_min(),
    }
}

fn breathing_up(
    breathing: &[(String, BreathingRate)],
    units: UnitSystem,
) -> Vec<(String, BreathingRate)> {
    let up = |rate| (in_units(rate, units) * steps(units) - NOISE).ceil() / steps(units);
    let up = |rate| match units {
        UnitSystem::Metric => BreathingRate::from_l_min(up(rate)),
        UnitSystem::Imperial => BreathingRate::from_cuft_min(up(rate)),
    };
    let breathing = breathing.iter();
    breathing
        .map(|(name, rate)| (name.clone(), up(*rate)))
        .collect()
}

/// The text of a rounded rate.
fn rate(rate: BreathingRate, units: UnitSystem) -> String {
    let number = (in_units(rate, units) * steps(units)).round() / steps(units);
    quoted(&match units {
        UnitSystem::Metric => format!("{number} L/min"),
        UnitSystem::Imperial => format!("{number} cuft/min"),
    })
}

/// The plan's text with what is meant in it; the text has been read before.
fn write(text: &str, units: UnitSystem, meant: &NextPlan) -> String {
    const MARK: char = '\u{feff}';
    let (mark, text) = match text.strip_prefix(MARK) {
        Some(text) => (MARK.to_string(), text),
        None => (String::new(), text),
    };
    let (root, _) = DeTable::parse_recoverable(text);
    let root = root.get_ref();
    let mut splices = Splices::of(text);
    for (name, breathed) in &meant.breathing {
        if let Some(sac) = sac_of(root, name) {
            splices.replace_saying(sac, &rate(*breathed, units), SAID);
        }
    }
    write_splash(&mut splices, root, meant.splash);
    if !meant.before.is_empty() {
        match root.get("before").and_then(|value| list_of(text, value)) {
            Some(list) => append_items(&mut splices, text, list, &meant.before),
            None => append_tables(&mut splices, text, &meant.before),
        }
    }
    mark + &splices.apply()
}

/// Where a diver's rate stands.
fn sac_of(root: &DeTable<'_>, name: &str) -> Option<Range<usize>> {
    let divers = root.get("diver")?.get_ref().as_array()?;
    let tables = divers.iter().filter_map(|diver| diver.get_ref().as_table());
    let text =
        |value: &Spanned<DeValue<'_>>| value.get_ref().as_str().map(|name| composed(name.trim()));
    let mut named =
        tables.filter(|diver| diver.get("name").and_then(text).as_deref() == Some(name));
    named.next()?.get("sac").map(Spanned::span)
}

fn write_splash(splices: &mut Splices<'_>, root: &DeTable<'_>, splash: Option<TimeOfDay>) {
    match (root.get_key_value("splash"), splash) {
        (Some((_, value)), Some(splash)) => {
            splices.replace(value.span(), quoted(&splash.to_string()));
        }
        (Some((key, value)), None) => splices.take_out(key.span().start, value.span()),
        (None, Some(splash)) => {
            let line = format!(
                "splash = {}{}",
                quoted(&splash.to_string()),
                splices.line_end()
            );
            // Below the lines that a file begins with, or above everything.
            let known = ["title", "units"].map(|key| root.get(key).map(|value| value.span().end));
            match known.into_iter().flatten().max() {
                Some(end) => splices.insert(splices.after_line(end), line),
                None => splices.insert(0, line),
            }
        }
        (None, None) => {}
    }
}

/// Refuses a text that does not read as what was meant, or that has changed anything else.
fn check_written(plan: &Plan, again: &Plan, meant: &NextPlan) -> Result<(), NextPlanError> {
    let not = |what| Err(NextPlanError::NotAsMeant { what });
    let breathed = |name: &str| meant.breathing.iter().find(|(other, _)| other == name);
    for (diver, before) in again.divers().iter().zip(plan.divers()) {
        let want = breathed(&diver.name).map_or(before.breathing, |(_, rate)| *rate);
        if !is_same(diver.breathing.as_l_min(), want.as_l_min()) {
            return not("a breathing rate");
        }
    }
    let rates = again.with_divers(|divers| {
        for (diver, before) in divers.iter_mut().zip(plan.divers()) {
            diver.breathing = before.breathing;
        }
    });
    if rates.divers() != plan.divers() {
        return not("the team");
    }
    let wanted: Vec<&EarlierDive> = plan.before().iter().chain(&meant.before).collect();
    let is_told = again
        .before()
        .iter()
        .zip(&wanted)
        .all(|(told, want)| is_same_dive(told, want));
    if again.before().len() != wanted.len() || !is_told {
        return not("an earlier dive");
    }
    if again.splash() != meant.splash {
        return not("the splash");
    }
    let rest = |plan: &Plan| (plan.title().map(str::to_owned), plan.units(), plan.staged());
    let same = rest(plan) == rest(again)
        && plan.levels() == again.levels()
        && plan.rules() == again.rules()
        && plan.gas() == again.gas()
        && plan.gas_law() == again.gas_law()
        && plan.site() == again.site()
        && plan.reserve() == again.reserve()
        && plan.surface() == again.surface();
    if same { Ok(()) } else { not("the dive") }
}

fn is_same(one: f64, other: f64) -> bool {
    (one - other).abs() <= SAME
}

fn is_same_dive(one: &EarlierDive, other: &EarlierDive) -> bool {
    let is_same_gas = match (one.gas, other.gas) {
        (Some(one), Some(other)) => one.is_same_gas(other),
        (one, other) => one.is_none() && other.is_none(),
    };
    let mut levels = one.levels.iter().zip(&other.levels);
    is_same_gas
        && one.divers == other.divers
        && one.surface_interval.is_at(other.surface_interval)
        && one.levels.len() == other.levels.len()
        && levels.all(|(one, other)| one.depth.is_at(other.depth) && one.time.is_at(other.time))
}

/// Refuses a rounding that makes anything easier than it was asked for.
fn check_enough(next: &NextPlan, meant: &NextPlan) -> Result<(), NextPlanError> {
    let not = |what| Err(NextPlanError::NotAsMeant { what });
    let mut rates = next.breathing.iter().zip(&meant.breathing);
    if !rates.all(|((_, asked), (_, meant))| meant.as_l_min() >= asked.as_l_min() - SAME) {
        return not("a breathing rate");
    }
    let is_enough = |asked: &EarlierDive, meant: &EarlierDive| {
        let mut levels = asked.levels.iter().zip(&meant.levels);
        let interval = asked.surface_interval + Time::from_min(SAME);
        meant.surface_interval <= interval
            && levels.all(|(asked, meant)| {
                let deeper = meant.depth.as_m() >= asked.depth.as_m() - SAME;
                deeper && meant.time.as_min() >= asked.time.as_min() - SAME
            })
    };
    let mut dives = next.before.iter().zip(&meant.before);
    if !dives.all(|(asked, meant)| is_enough(asked, meant)) {
        return not("an earlier dive");
    }
    Ok(())
}
