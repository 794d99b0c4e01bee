//! Every figure on a screen is the one of the document, rounded toward safety: what must be kept is
//! rounded up, what may be used is rounded down.

use hangbar::briefing::Briefing;
use hangbar::quantity::{CUBIC_FOOT_L, FOOT_M, PSI_BAR, UnitSystem};
use hangbar::report::{self, Block, Table, document};

use crate::cases::{Wrong, each};

/// Part of a step by which a figure may be past a mark and still be that mark.
const NOISE: f64 = 1e-6;
/// No gauge shows more than so many of its steps: 600 bar, 9000 psi.
const BEYOND_BAR: f64 = 600.0;
const BEYOND_PSI: f64 = 9000.0;

/// A screen, its tables under the headings that they stand below.
pub(crate) struct Screen {
    tables: Vec<(String, Table)>,
    /// All that is no table, a line each.
    lines: Vec<String>,
}

impl Screen {
    pub(crate) fn of(report: &report::Report) -> Self {
        let mut screen = Self {
            tables: Vec::new(),
            lines: Vec::new(),
        };
        let plain = |text: &str| text.replace(report::NO_BREAK, " ");
        let mut under = String::new();
        for block in &report.blocks {
            match block {
                Block::Heading(text) => {
                    under.clone_from(text);
                    screen.lines.push(plain(text));
                }
                Block::Paragraph(text) => screen.lines.push(plain(text)),
                Block::Marked { mark, text, .. } => {
                    screen
                        .lines
                        .push(plain(&format!("{} {text}", mark.trim())).trim().to_owned());
                }
                Block::Table(table) => screen.tables.push((under.clone(), table.clone())),
                _ => {}
            }
        }
        screen
    }

    /// The table under a heading that begins so.
    fn table(&self, heading: &str) -> Option<&Table> {
        let mut tables = self.tables.iter();
        tables
            .find(|(under, _)| under.starts_with(heading))
            .map(|(_, table)| table)
    }

    /// The first line that has these words, behind them.
    fn after(&self, words: &str) -> Option<&str> {
        self.lines
            .iter()
            .find_map(|line| line.split_once(words))
            .map(|(_, rest)| rest)
    }

    pub(crate) fn has(&self, words: &str) -> bool {
        self.lines.iter().any(|line| line.contains(words))
    }
}

/// The cell of a row under a heading.
fn cell<'t>(table: &'t Table, row: &'t [String], heading: &str) -> &'t str {
    let mut columns = table.columns.iter();
    let index = columns.position(|column| column.heading.replace('\n', " ") == heading);
    let Some(index) = index else {
        panic!("no column {heading} in {:?}", table.columns);
    };
    &row[index]
}

/// Whether a figure is the first multiple of a step that is not less, or the last that is not more.
fn is_next(shown: &str, value: f64, step: f64, up: bool) -> bool {
    let Ok(shown) = shown.parse::<f64>() else {
        return false;
    };
    let on_step = (shown / step - (shown / step).round()).abs() < NOISE;
    let past = if up { shown - value } else { value - shown };
    on_step && (-step * NOISE..step).contains(&past)
}

/// What is said, beside what it is.
struct Check<'w> {
    units: UnitSystem,
    wrong: &'w mut Wrong,
    count: u64,
}

impl Check<'_> {
    fn that(&mut self, holds: bool, what: impl FnOnce() -> String) {
        self.count += 1;
        if !holds {
            let units = self.units;
            self.wrong.push(format!("{} ({units:?})", what()));
        }
    }

    fn next(&mut self, what: &str, shown: &str, value: f64, step: f64, up: bool) {
        self.that(is_next(shown, value, step, up), || {
            format!("{what}: {shown} is shown for {value}, up: {up}")
        });
    }

    /// A pressure on a gauge, without its unit or with it.
    fn pressure(&mut self, what: &str, shown: &str, bar: f64, psi: bool, up: bool) {
        let (value, step, beyond) = if psi {
            (bar / PSI_BAR, 50.0, BEYOND_PSI)
        } else {
            (bar, 5.0, BEYOND_BAR)
        };
        let unit = if psi { " psi" } else { " bar" };
        let number = shown.strip_suffix(unit).unwrap_or(shown);
        if number.starts_with('>') {
            let right = up && value > beyond && number == format!(">{beyond}");
            self.that(right, || format!("{what}: {shown} for {value}"));
            return;
        }
        self.next(what, number, value, step, up);
    }

    /// A pressure that may be none any more.
    fn left(&mut self, what: &str, shown: &str, bar: Option<f64>, psi: bool) {
        match bar {
            Some(bar) => self.pressure(what, shown, bar, psi, false),
            None => self.that(shown == "empty" || shown == "nothing", || {
                format!("{what}: {shown}")
            }),
        }
    }

    /// A volume with its unit, on the diver's gauge or in the units of the screen.
    fn volume(&mut self, what: &str, shown: &str, litres: f64, imperial: bool, up: bool) {
        let (value, step, unit) = if imperial {
            (litres / CUBIC_FOOT_L, 0.1, " cuft")
        } else {
            (litres, 1.0, " L")
        };
        let Some(number) = shown.strip_suffix(unit) else {
            self.that(false, || format!("{what}: {shown}"));
            return;
        };
        self.next(what, number, value, step, up);
    }

    fn is_imperial(&self) -> bool {
        self.units == UnitSystem::Imperial
    }

    /// A depth with its unit.
    fn depth(&mut self, what: &str, shown: &str, metres: f64, up: bool) {
        let (value, step, unit) = if self.is_imperial() {
            (metres / FOOT_M, 1.0, " ft")
        } else {
            (metres, 0.1, " m")
        };
        let number = shown.strip_suffix(unit).unwrap_or("no depth");
        self.next(what, number, value, step, up);
    }

    /// Minutes and seconds.
    fn clock(&mut self, what: &str, shown: &str, minutes: f64, up: bool) {
        let seconds = shown.split_once(':').and_then(|(whole, seconds)| {
            let (whole, seconds): (f64, f64) = (whole.parse().ok()?, seconds.parse().ok()?);
            Some(whole * 60.0 + seconds)
        });
        let seconds = seconds.map_or_else(|| shown.to_owned(), |seconds| seconds.to_string());
        self.next(what, &seconds, minutes * 60.0, 1.0, up);
    }
}

/// The number that a text begins with, and what is behind it.
fn number(text: &str) -> (&str, &str) {
    let end = text
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(text.len());
    let digits = text[..end].trim_end_matches('.');
    (digits, &text[digits.len()..])
}

/// A quantity, number and unit, that a text begins with.
fn quantity(text: &str) -> &str {
    let (digits, rest) = number(text.trim_start_matches('>'));
    let unit = rest.trim_start().find(|c: char| !c.is_alphabetic());
    let unit = unit.unwrap_or(rest.trim_start().len());
    let from = text.len() - text.trim_start_matches('>').len();
    &text[..(from + digits.len() + (rest.len() - rest.trim_start().len()) + unit).min(text.len())]
}

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
