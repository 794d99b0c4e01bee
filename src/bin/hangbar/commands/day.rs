//! `hangbar day`: several plans of one day.

use std::path::{Path, PathBuf};

use hangbar::day::{Day, DayPlan, Home, home_by, plan_day, verdict};
use hangbar::plan::TimeOfDay;
use hangbar::plan_file::Overrides;
use hangbar::report::{self, FlyingShown, chart, document};

use crate::args::{DayArgs, Format};
use crate::input::read_plan;
use crate::outcome::Outcome;
use crate::paper::{columns, wants_colour};
use crate::picture;
use crate::refusal::Refusal;
use crate::render::json;
use crate::render::names::{file_name, is_standard_input};
use crate::render::terminal::Terminal;

pub(super) fn run(args: &DayArgs) -> Outcome {
    let plans = match read_day(&args.plans, &args.overrides()) {
        Ok(plans) => plans,
        Err((refusal, plan)) => {
            let outcome = refusal.outcome(&plan);
            let plan = Some(plan);
            return Outcome { plan, ..outcome };
        }
    };
    match plan_day(plans, &args.hours.interval, args.fly_at) {
        Ok(day) => told(args, &day).unwrap_or_else(|refusal| refusal.of_the_day()),
        Err(error) => {
            let named = |path: &&PathBuf| error.file() == Some(file_name(path).as_str());
            let plan = args.plans.iter().find(named).cloned();
            let outcome = Refusal::from(error).of_the_day();
            Outcome { plan, ..outcome }
        }
    }
}

/// The plans of a day; why one is none, and which.
pub(super) fn read_day(
    plans: &[PathBuf],
    overrides: &Overrides,
) -> Result<Vec<DayPlan>, (Refusal, PathBuf)> {
    let from_input = plans.iter().filter(|path| is_standard_input(path));
    if from_input.count() > 1 {
        let message = "standard input can be read once; accepted: `-` for one plan".to_owned();
        return Err((Refusal::Dive(message), PathBuf::from("-")));
    }
    let plan = |path: &PathBuf| {
        let plan = read_plan(path, overrides);
        let file = file_name(path);
        plan.map(|plan| DayPlan { file, plan })
            .map_err(|refusal| (refusal, path.clone()))
    };
    plans.iter().map(plan).collect()
}

fn told(args: &DayArgs, day: &Day) -> Result<Outcome, Refusal> {
    let home = home_of(args.hours.home_by, day)?;
    let units = day.dives[0].briefing.plan.units();
    let units = args.shown.units.map_or(units, Into::into);
    let text = |report: &report::Report| {
        let colour = wants_colour(args.shown.color);
        Ok(Terminal::draw(report, colour, columns(&args.shown.width)))
    };
    let output = match args.brief {
        None => match args.shown.format {
            Format::Text => {
                let flying = if args.fly {
                    FlyingShown::InFull
                } else {
                    FlyingShown::InShort
                };
                text(&report::day(day, home.as_ref(), flying, units))
            }
            Format::Json => json::pretty(document::Day::new(day, home.as_ref())),
        },
        Some(number) => {
            let dive = dive(day, number)?;
            match args.shown.format {
                Format::Text => {
                    let home = home.as_ref();
                    text(&report::brief_of_a_day(day, dive, home, units))
                }
                Format::Json => json::pretty(document::Briefing::try_from(&dive.briefing)),
            }
        }
    };
    let verdict = verdict(day, home.as_ref());
    Ok(picture::finish(output, verdict.into(), &args.drawn, || {
        chart::day(day, units)
    }))
}

/// How a day stands to the hour by which all are to be back.
pub(super) fn home_of(by: Option<TimeOfDay>, day: &Day) -> Result<Option<Home>, Refusal> {
    let Some(by) = by else {
        return Ok(None);
    };
    let home = home_by(day, by).ok_or_else(|| Refusal::Option {
        option: "--home-by",
        message: "no plan says when it splashes".to_owned(),
        accepted: Some("--home-by where the first plan has a `splash`".to_owned()),
    })?;
    Ok(Some(home))
}

fn dive(day: &Day, number: u8) -> Result<&hangbar::day::DayDive, Refusal> {
    let count = day.dives.len();
    let dive = usize::from(number)
        .checked_sub(1)
        .and_then(|index| day.dives.get(index));
    dive.ok_or_else(|| Refusal::Option {
        option: "--brief",
        message: format!("there is no dive {number} in this day"),
        accepted: Some(format!("1 to {count}")),
    })
}

impl Refusal {
    /// The end of a day that is none, whose messages name the plans.
    pub(super) fn of_the_day(&self) -> Outcome {
        self.outcome(Path::new("the day"))
    }
}
