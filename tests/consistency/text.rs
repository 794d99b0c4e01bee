//! Every figure on a screen is the one of the document, rounded toward safety: what must be kept is
//! rounded up, what may be used is rounded down.

use hangbar::briefing::Briefing;
use hangbar::quantity::UnitSystem;
use hangbar::report::{self, document};
use hangbar::whatif::{Deviation, deviate};

use crate::cases::{Wrong, each};
use crate::screen::{Check, Screen, cell, number, quantity};

fn gas_rows(check: &mut Check<'_>, screen: &Screen, doc: &document::Briefing) {
    let no_go = doc.verdict == document::Verdict::NoGo;
    let heading = if no_go { "Gas as asked for" } else { "Gas" };
    let Some(table) = screen.table(heading) else {
        check.that(doc.divers.is_empty(), || "no table of gas".to_owned());
        return;
    };
    check.that(table.rows.len() == doc.divers.len(), || {
        "rows of gas".to_owned()
    });
    for (row, diver) in table.rows.iter().zip(&doc.divers) {
        let name = &diver.name;
        let psi = diver.gauge == document::Gauge::Psi;
        let at = |heading: &str| cell(table, row, heading);
        check.that(at("diver") == name, || format!("row of {name}"));
        let minimum = diver.levels.last().unwrap().minimum_gas_bar;
        if no_go {
            check.pressure(name, at("and must have"), minimum, psi, true);
            check.left(name, at("leaves bottom with"), diver.leaving_bar, psi);
            check.left(name, at("back aboard"), diver.end_bar, psi);
            continue;
        }
        check.pressure(name, at("turn at"), diver.turn_bar, psi, true);
        check.pressure(name, at("minimum gas"), minimum, psi, true);
        check.left(name, at("leaves bottom"), diver.leaving_bar, psi);
        check.left(name, at("back aboard"), diver.end_bar, psi);
        match diver.turn_min {
            None => check.that(at("turn due") == "never", || format!("{name} turns")),
            Some(due) => {
                let shown = at("turn due").trim_end_matches(" min");
                check.next(name, shown, due, 1.0, false);
            }
        }
        let most = doc
            .longest_go_min
            .map_or(diver.gas_limit_min, |go| go.min(diver.gas_limit_min));
        let limit = match most {
            0 => "none".to_owned(),
            minutes => format!("{minutes} min"),
        };
        check.that(at("no longer than") == limit, || {
            format!("{name}: limit is {limit}")
        });
    }
}

/// Levels that the dive pauses at, as the document has them: depth, arrival, leaving.
fn pauses(doc: &document::Briefing) -> Vec<(f64, f64, f64)> {
    let leave = doc.surface.leave_bottom.run_time_min;
    let mut pauses: Vec<(f64, f64, f64)> = Vec::new();
    let is_level = |kind| {
        !matches!(
            kind,
            document::SegmentKind::Ascent | document::SegmentKind::Descent
        )
    };
    let mut follows = false;
    for segment in &doc.segments {
        if !is_level(segment.kind) {
            follows = false;
            continue;
        }
        match pauses.last_mut() {
            Some(pause) if follows && (pause.2 - leave).abs() > 1e-9 => pause.2 = segment.end_min,
            _ => pauses.push((segment.from_m, segment.start_min, segment.end_min)),
        }
        follows = true;
    }
    pauses
}

fn run_times(check: &mut Check<'_>, screen: &Screen, doc: &document::Briefing) {
    let Some(table) = screen.table("Run time") else {
        check.that(false, || "no table of run times".to_owned());
        return;
    };
    let pauses = pauses(doc);
    let leave_bottom = doc.surface.leave_bottom.run_time_min;
    check.that(table.rows.len() == pauses.len() + 1, || {
        format!(
            "{} rows of run time for {} pauses",
            table.rows.len(),
            pauses.len()
        )
    });
    for (row, (depth, arrive, leave)) in table.rows.iter().zip(&pauses) {
        check.depth("level", cell(table, row, "depth"), *depth, true);
        check.clock("arrival", cell(table, row, "arrive"), *arrive, true);
        let on_the_bottom = *leave <= leave_bottom + 1e-9;
        check.clock("leaving", cell(table, row, "leave"), *leave, !on_the_bottom);
    }
    let last = table.rows.last().unwrap();
    check.clock(
        "surfacing",
        cell(table, last, "arrive"),
        doc.run_time_min,
        true,
    );
}

fn sentences(check: &mut Check<'_>, screen: &Screen, doc: &document::Briefing) {
    let after = |words: &str| screen.after(words).unwrap_or_default();
    let up = after("back on the surface at minute ");
    check.next("surfacing", number(up).0, doc.run_time_min, 1.0, true);
    let limit = after("No-stop limit at ");
    let (depth, limit) = limit.split_once(": ").unwrap_or_default();
    let deepest = doc
        .segments
        .iter()
        .map(|segment| segment.to_m)
        .fold(0.0, f64::max);
    check.depth("limit at", depth.trim_end_matches(" alone"), deepest, true);
    match doc.no_stop_limit_min {
        Some(minutes) => check.next("no-stop limit", number(limit).0, minutes, 1.0, false),
        None => check.that(limit.starts_with("more than 999 minutes"), || {
            limit.to_owned()
        }),
    }
    let oxygen = &doc.oxygen;
    let po2 = number(after("Oxygen: at most ")).0;
    check.next("oxygen pressure", po2, oxygen.max_po2_bar, 0.01, true);
    check.next("CNS", number(after("; CNS ")).0, oxygen.cns_pct, 1.0, true);
    check.next("OTU", number(after(", OTU ")).0, oxygen.otu, 1.0, true);
    if doc.verdict == document::Verdict::NoGo {
        return;
    }
    let (splash, surface) = (&doc.surface.splash, &doc.surface);
    for (words, moment, is_up) in [
        ("They leave the bottom by ", &surface.leave_bottom, false),
        (", are up by ", &surface.surface, true),
        ("and are OVERDUE at ", &surface.overdue, true),
    ] {
        let shown = after(words);
        match (&moment.time_of_day, splash) {
            (Some(time), Some(_)) => {
                check.that(shown.starts_with(time.as_str()), || {
                    format!("{words}{time}: {shown}")
                });
            }
            _ => {
                let shown = number(shown.trim_start_matches("minute ")).0;
                check.next(words, shown, moment.run_time_min, 1.0, is_up);
            }
        }
    }
}

/// `Tove 50 bar, Mara 50 bar` behind the words that announce it.
fn each_minimum(check: &mut Check<'_>, shown: &str, doc: &document::Briefing, level: usize) {
    for diver in &doc.divers {
        let words = format!("{} ", diver.name);
        let figure = shown.split(&words).nth(1).map(quantity).unwrap_or_default();
        let psi = diver.gauge == document::Gauge::Psi;
        let minimum = diver.levels[level].minimum_gas_bar;
        check.pressure(
            &format!("{} leaves level {level}", diver.name),
            figure,
            minimum,
            psi,
            true,
        );
    }
}

fn minimums(check: &mut Check<'_>, screen: &Screen, doc: &document::Briefing) {
    let Some(first) = doc.divers.first() else {
        return;
    };
    let last = first.levels.len() - 1;
    let verb = if doc.verdict == document::Verdict::NoGo {
        " would have to be left with, at minute "
    } else {
        let shown = screen.after(", and with at least: ").unwrap_or_default();
        each_minimum(check, shown, doc, last);
        " is left with at least, at minute "
    };
    let lines = screen.lines.iter().filter_map(|line| line.split_once(verb));
    let lines: Vec<(&str, &str)> = lines.collect();
    check.that(lines.len() == last, || {
        format!("{} of {last} levels", lines.len())
    });
    for (index, (depth, rest)) in lines.into_iter().enumerate() {
        check.depth("level", depth, first.levels[index].depth_m, true);
        let (minute, rest) = number(rest);
        check.next("leaving", minute, first.levels[index].leave_min, 1.0, false);
        each_minimum(check, rest, doc, index);
    }
}

fn ponies(check: &mut Check<'_>, screen: &Screen, doc: &document::Briefing) {
    let imperial = check.is_imperial();
    for diver in &doc.divers {
        let Some(pony) = &diver.pony else {
            continue;
        };
        let name = &diver.name;
        let words = format!("{name}'s pony gives ");
        let line = screen.after(&words).unwrap_or_default();
        check.volume(
            &format!("{name}'s pony"),
            quantity(line),
            pony.have_l,
            imperial,
            false,
        );
        // `every stop (288 L)`, `the stops (288 L)`, `every stop 288 L`.
        let full = ["every stop (", "the stops (", "every stop "];
        let full = full.iter().find_map(|words| line.split_once(words));
        let full = full.map_or("", |(_, rest)| quantity(rest));
        check.volume(
            &format!("{name}'s stops"),
            full,
            pony.need_full_l,
            imperial,
            true,
        );
        if pony.verdict != document::PonyVerdict::CoversAll {
            let straight = ["straight ascent (", "straight up takes "];
            let straight = straight.iter().find_map(|words| line.split_once(words));
            let straight = straight.map_or("", |(_, rest)| quantity(rest));
            let need = pony.need_ascent_l;
            check.volume(
                &format!("{name} straight up"),
                straight,
                need,
                imperial,
                true,
            );
        }
    }
}

fn stages(check: &mut Check<'_>, screen: &Screen, doc: &document::Briefing) {
    if doc.verdict == document::Verdict::NoGo {
        return;
    }
    let imperial = check.is_imperial();
    let mut lines = screen.lines.iter().filter(|line| line.contains(", holds "));
    for diver in &doc.divers {
        for stage in &diver.stages {
            let line = lines.next().map_or("", String::as_str);
            let (name, gas) = (&diver.name, &stage.gas);
            let what = format!("{name}'s {gas}");
            check.that(line.starts_with(&format!("{name}: {gas}")), || {
                format!("{what}: {line}")
            });
            let have = line.split_once(", holds ").unwrap_or_default().1;
            check.volume(&what, quantity(have), stage.have_l, imperial, false);
            if stage.need_l > 0.0 {
                let need = line.split_once("must hold ").unwrap_or_default().1;
                check.volume(&what, quantity(need), stage.need_l, imperial, true);
            }
        }
    }
}

fn hangs(check: &mut Check<'_>, screen: &Screen, doc: &document::Briefing) {
    let Some(table) = screen.table("The hang: ") else {
        return;
    };
    for (row, diver) in table.rows.iter().zip(&doc.divers) {
        let name = format!("hang of {}", diver.name);
        let psi = diver.gauge == document::Gauge::Psi;
        let hang = diver.hang.as_ref().unwrap();
        check.volume(&name, cell(table, row, "takes"), hang.takes_l, psi, true);
        check.left(
            &name,
            cell(table, row, "and leaves aboard"),
            hang.left_bar,
            psi,
        );
        let minimum = diver.levels.last().unwrap().minimum_gas_bar;
        let shown = cell(table, row, "so leave the bottom with");
        check.pressure(&name, shown, minimum, psi, true);
    }
}

fn late(check: &mut Check<'_>, screen: &Screen, doc: &document::Briefing) {
    let Some(table) = screen.table("If they leave the") else {
        return;
    };
    let plus = |minute: Option<u32>, state: document::LateState| match (state, minute) {
        (document::LateState::AsPlanned, Some(0)) => "now".to_owned(),
        (document::LateState::From, Some(minute)) => format!("+{minute}"),
        (document::LateState::NotWithin, None) => "-".to_owned(),
        (document::LateState::Unknown, Some(minute)) => format!("+{minute} ?"),
        other => format!("{other:?} contradicts itself"),
    };
    let has = |heading: &str| {
        let mut columns = table.columns.iter();
        columns.any(|column| column.heading.replace('\n', " ") == heading)
    };
    for (row, diver) in table.rows.iter().zip(&doc.late.divers) {
        let mut cells = vec![
            (
                "reserve gone",
                plus(diver.reserve_gone_from_min, diver.reserve_gone_state),
            ),
            (
                "cylinder empty",
                plus(diver.empty_from_min, diver.empty_state),
            ),
        ];
        if has("stage short") {
            cells.push((
                "stage short",
                plus(diver.stage_short_from_min, diver.stage_short_state),
            ));
        }
        if let Some(state) = diver.pony_stops_state {
            cells.push((
                "no pony for the stops",
                plus(diver.pony_stops_from_min, state),
            ));
        }
        for (heading, want) in cells {
            let shown = cell(table, row, heading);
            check.that(shown == want, || {
                format!("{heading} of {}: {shown}, {want}", diver.name)
            });
        }
    }
}

fn rescues(check: &mut Check<'_>, screen: &Screen, doc: &document::Briefing) {
    if doc.verdict == document::Verdict::NoGo {
        check.that(!screen.has("gas every stop"), || {
            "a no-go shares gas".to_owned()
        });
        return;
    }
    for lost in &doc.lost_gas {
        let Some(shared) = &lost.shared else {
            continue;
        };
        let (name, donor) = (&lost.name, shared.donor.as_ref().unwrap());
        let line = screen.after(&format!("{name} at ")).unwrap_or_default();
        check.depth(
            "lost",
            line.split(',').next().unwrap_or_default(),
            shared.depth_m,
            true,
        );
        let minute = line.split_once("minute ").unwrap_or_default().1;
        check.next("lost", number(minute).0, shared.run_time_min, 1.0, false);
        check.that(line.contains(&format!("on {donor}'s gas ")), || {
            format!("{name}: {line}")
        });
        let gauge = doc
            .divers
            .iter()
            .find(|diver| diver.name == *donor)
            .unwrap()
            .gauge;
        let end = line.split_once("'s gas ").unwrap_or_default().1;
        match shared.outcome {
            document::RescueOutcome::EveryStop => {
                let left = end
                    .strip_prefix("every stop, ")
                    .map(quantity)
                    .unwrap_or_default();
                let psi = gauge == document::Gauge::Psi;
                check.pressure(name, left, shared.left_bar.unwrap(), psi, false);
            }
            document::RescueOutcome::StopsMissed | document::RescueOutcome::NotEnough => {
                let at = end.rsplit_once("gone at ").unwrap_or_default().1;
                let at = at.split_once(" at ").map_or(at, |(_, depth)| depth);
                check.depth(name, quantity(at), shared.empty_m.unwrap(), true);
            }
        }
    }
}

fn nearest(check: &mut Check<'_>, screen: &Screen, doc: &document::Briefing) {
    let Some(nearest) = &doc.nearest_go else {
        check.that(!screen.has("The nearest go"), || {
            "a go has a nearest one".to_owned()
        });
        return;
    };
    if let Some(minutes) = nearest.bottom_time_min {
        let shown = screen
            .lines
            .iter()
            .find_map(|line| line.strip_prefix("time "));
        let shown = number(shown.unwrap_or_default()).0;
        check.that(shown == minutes.to_string(), || {
            format!("nearest time {minutes}: {shown}")
        });
    }
    if let Some(metres) = nearest.depth_m {
        let shown = screen
            .after("No deeper than ")
            .map(quantity)
            .unwrap_or_default();
        check.depth("nearest depth", shown, metres, false);
    }
    let fills = screen
        .lines
        .iter()
        .find_map(|line| line.strip_prefix("fill "));
    for fill in &nearest.fills {
        let words = format!("{} ", fill.diver);
        let shown = fills
            .and_then(|line| line.split(&words).nth(1))
            .map(quantity);
        let gauge = doc
            .divers
            .iter()
            .find(|diver| diver.name == fill.diver)
            .unwrap()
            .gauge;
        let psi = gauge == document::Gauge::Psi;
        check.pressure(
            "nearest fill",
            shown.unwrap_or_default(),
            fill.fill_bar,
            psi,
            true,
        );
    }
}

fn short_screen(check: &mut Check<'_>, screen: &Screen, doc: &document::Briefing) {
    if doc.verdict == document::Verdict::NoGo {
        check.that(screen.tables.is_empty(), || {
            "a no-go has a table".to_owned()
        });
        return;
    }
    let after = |words: &str| screen.after(words).unwrap_or_default();
    let limit = after("No-stop limit at ")
        .split_once(": ")
        .unwrap_or_default()
        .1;
    match doc.no_stop_limit_min {
        Some(minutes) => check.next("short limit", number(limit).0, minutes, 1.0, false),
        None => check.that(limit.starts_with("over 999 min"), || limit.to_owned()),
    }
    if let Some(minutes) = doc.longest_go_min {
        let shown = number(after("no bottom time beyond ")).0;
        check.that(shown == minutes.to_string(), || {
            format!("{minutes}: {shown}")
        });
    }
    let up = ["up at minute ", "at the surface at minute "];
    let up = up
        .iter()
        .find_map(|words| screen.after(words))
        .unwrap_or_default();
    check.next("short surfacing", number(up).0, doc.run_time_min, 1.0, true);
    let Some(table) = screen.tables.first().map(|(_, table)| table) else {
        check.that(doc.divers.is_empty(), || "no short table".to_owned());
        return;
    };
    for (row, diver) in table.rows.iter().zip(&doc.divers) {
        let psi = diver.gauge == document::Gauge::Psi;
        let minimum = diver.levels.last().unwrap().minimum_gas_bar;
        check.pressure(
            "short turn",
            cell(table, row, "turn at"),
            diver.turn_bar,
            psi,
            true,
        );
        check.pressure(
            "short minimum",
            cell(table, row, "minimum"),
            minimum,
            psi,
            true,
        );
    }
}

/// What the briefing says of a dive by the usual step deeper, and of flying after it.
fn deeper_and_flying(
    check: &mut Check<'_>,
    screen: &Screen,
    briefing: &Briefing,
    doc: &document::Briefing,
) {
    if doc.verdict == document::Verdict::NoGo {
        return;
    }
    let flying = screen.after("No flying or driving up").unwrap_or_default();
    let words = match doc.flying.advised_wait_min {
        Some(minutes) => match (minutes / 60, minutes % 60) {
            (0, minutes) => format!(" for {minutes} min after"),
            (hours, 0) => format!(" for {hours} h after"),
            (hours, minutes) => format!(" for {hours} h {minutes} min after"),
        },
        None => String::new(),
    };
    check.that(flying.starts_with(&words), || format!("{words}: {flying}"));
    if let Some(time) = &doc.flying.not_before {
        check.that(flying.contains(&format!("until {time}")), || {
            format!("{time}: {flying}")
        });
    }
    if doc.divers.is_empty() {
        return;
    }
    let line = screen.after(" deeper, should it happen: ");
    let step = Deviation::usual_step_deeper(briefing.plan.units());
    let Ok(outcome) = deviate(&briefing.plan, &step) else {
        check.that(line.is_none(), || format!("deeper: {line:?}"));
        return;
    };
    let line = line.unwrap_or_default();
    let up = line.split_once("up at minute ").unwrap_or_default().1;
    check.next("deeper", number(up).0, outcome.run_time.as_min(), 1.0, true);
    let kind = if outcome.no_stop {
        "no-stop, "
    } else {
        "staged, "
    };
    check.that(line.contains(kind), || format!("deeper is {kind}: {line}"));
    if let Some(stop) = outcome.first_stop {
        let shown = line.split_once("first stop ").unwrap_or_default().1;
        check.depth("first stop", quantity(shown), stop.as_m(), true);
        let time = shown.split_once(", ").unwrap_or_default().1;
        check.next(
            "stops",
            number(time).0,
            outcome.stop_time.as_min(),
            1.0,
            true,
        );
    }
    let no_go = outcome.verdict == hangbar::finding::Verdict::NoGo;
    check.that(line.starts_with("NO-GO (") == no_go, || {
        format!("deeper: {line}")
    });
}

fn screen(
    briefing: &Briefing,
    doc: &document::Briefing,
    units: UnitSystem,
    wrong: &mut Wrong,
) -> u64 {
    let mut check = Check {
        units,
        wrong,
        count: 0,
    };
    let whole = Screen::of(&report::brief(briefing, units));
    gas_rows(&mut check, &whole, doc);
    run_times(&mut check, &whole, doc);
    sentences(&mut check, &whole, doc);
    minimums(&mut check, &whole, doc);
    ponies(&mut check, &whole, doc);
    stages(&mut check, &whole, doc);
    hangs(&mut check, &whole, doc);
    late(&mut check, &whole, doc);
    rescues(&mut check, &whole, doc);
    nearest(&mut check, &whole, doc);
    deeper_and_flying(&mut check, &whole, briefing, doc);
    let short = Screen::of(&report::short(briefing, units));
    short_screen(&mut check, &short, doc);
    check.count
}

#[test]
fn every_figure_of_a_briefing_is_the_document_s_rounded_toward_safety() {
    each("text beside JSON", 60, |case, _, wrong| {
        let doc = document::Briefing::try_from(&case.briefing).unwrap();
        let metric = screen(&case.briefing, &doc, UnitSystem::Metric, wrong);
        metric + screen(&case.briefing, &doc, UnitSystem::Imperial, wrong)
    });
}
