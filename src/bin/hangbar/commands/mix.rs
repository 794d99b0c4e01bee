//! `hangbar mix`: one gas, how deep and for how long, and how it is blended.

use hangbar::gas::{BlendAsked, BlendError, Component, CylinderGas};
use hangbar::plan_file::without_file;
use hangbar::quantity::show::Show;
use hangbar::quantity::{GaugePressure, UnitSystem};
use hangbar::report::{self, BlendWanted, GasWanted, MixAsked, MixError, MixSheet, document};
use hangbar::site::Mix;

use crate::args::{Format, MixArgs};
use crate::input::read_plan;
use crate::outcome::{Outcome, Status};
use crate::paper::{columns, wants_colour};
use crate::refusal::Refusal;
use crate::render::json;
use crate::render::terminal::Terminal;

pub(super) fn run(args: &MixArgs) -> Result<Outcome, Refusal> {
    let asked = asked(args)?;
    let overrides = args.site.overrides();
    let shown = args.shown.units.map(Into::into);
    let (units, sheet) = if let Some(path) = &args.plan {
        let plan = read_plan(path, &overrides)?;
        let units = shown.unwrap_or(plan.units());
        (units, MixSheet::work_out(&plan, &asked))
    } else {
        let rules = without_file(&overrides).map_err(Refusal::Plan)?;
        (
            shown.unwrap_or_else(|| args.blend.map_or_else(UnitSystem::default, |to| to.units)),
            MixSheet::by_rules(&rules.rules, &asked),
        )
    };
    let sheet = sheet.map_err(|error| refusal(&error, units))?;
    let output = match args.shown.format {
        Format::Text => {
            let report = report::mix(&sheet, units);
            let colour = wants_colour(args.shown.color);
            Ok(Terminal::draw(&report, colour, columns(&args.shown.width)))
        }
        Format::Json => json::pretty(document::Mix::try_from(&sheet)),
    };
    let status = if sheet.is_no_go() {
        Status::NoGo
    } else {
        Status::Go
    };
    Ok(Outcome::of(output, status))
}

fn asked(args: &MixArgs) -> Result<MixAsked, Refusal> {
    let gas = match (args.gas, args.best_for) {
        (Some(gas), None) => GasWanted::Named {
            gas,
            depth: args.depth,
        },
        (None, Some(depth)) => GasWanted::RichestFor(depth),
        // clap asks for one of them.
        _ => return Err(Refusal::Dive("one gas, or --best-for a depth".to_owned())),
    };
    let empty = CylinderGas {
        pressure: GaugePressure::from_bar(0.0),
        gas: Mix::AIR,
    };
    Ok(MixAsked {
        gas,
        oxygen_limit: args.oxygen_limit,
        factors: args.factors,
        blend: args.blend.map(|fill| BlendWanted {
            fill: fill.pressure,
            start: args.from.unwrap_or(empty),
            top: args.top,
            temperature: args.temperature,
        }),
    })
}

/// Which option asked for what there is not.
fn refusal(error: &MixError, units: UnitSystem) -> Refusal {
    let show = Show(units);
    let (option, message, accepted) = match error {
        MixError::NoNitrox {
            depth,
            limit,
            air_to,
        } => {
            let (depth, limit) = (show.depth(*depth), limit.as_bar());
            let message = format!("at {depth} even air has more than {limit} bar of oxygen");
            let deepest = show.depth_limit(*air_to);
            let accepted = format!("at most {deepest}, or trimix");
            ("--best-for", message, accepted)
        }
        MixError::Blend(BlendError::TooMuch {
            of,
            asked,
            drain_to,
        }) => {
            let message = too_much(show, *of, asked);
            let gas = asked.start.gas;
            let accepted = match drain_to {
                Some(pressure) => {
                    let pressure = show.pressure_whole_down(*pressure);
                    format!("at most {pressure} of {gas}: drain the cylinder to that before")
                }
                None => format!(
                    "another gas before: the {gas} left in an empty cylinder is too much; rinse it"
                ),
            };
            ("--from", message, accepted)
        }
        MixError::Blend(BlendError::WrongTop { asked, .. }) => {
            let accepted = format!("a gas with less of it than {}", asked.target.gas);
            ("--top", error.to_string(), accepted)
        }
        MixError::Blend(BlendError::TopWithoutNitrogen { .. }) => {
            let accepted = "air or nitrox".to_owned();
            ("--top", error.to_string(), accepted)
        }
        other => return Refusal::Dive(other.to_string()),
    };
    Refusal::Option {
        option,
        message,
        accepted: Some(accepted),
    }
}

/// What the cylinder holds too much of, empty or not.
fn too_much(show: Show, of: Component, asked: &BlendAsked) -> String {
    let BlendAsked { start, target, .. } = asked;
    let fill = show.pressure_read(target.pressure);
    let may = format!("more {of} than {fill} of {} may", target.gas);
    if start.pressure.as_bar() > 0.0 {
        let left = show.pressure_read(start.pressure);
        format!("{left} of {} hold {may}", start.gas)
    } else {
        format!("even when empty, a cylinder of {} holds {may}", start.gas)
    }
}
