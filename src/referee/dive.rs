//! The schedule by the referee.

use super::ascent::way_up;
use super::body::Body;
use super::course::{Diving, Leg, Rules, join};
use super::objection::{Judged, Objection, Question, same, sure};
use crate::dive::{Moment, Schedule, Segment, SegmentKind};
use crate::rules::Level;
use crate::tissue::Tissues;

/// Run times agree to this, minutes.
const MINUTES: f64 = 1e-6;
/// Depths agree to this, metres.
const METRES: f64 = 1e-9;
/// Tissues agree to this, bar.
const TISSUE_BAR: f64 = 1e-9;
/// Fractions agree to this.
const FRACTION: f64 = 1e-8;
/// A rise between levels is looked at so often.
const RISE_STEPS: u32 = 32;

/// The dive down and along as the referee flew it.
pub(super) struct Flown {
    /// On arriving at each level: the diver, and the legs up to there.
    pub(super) arrivals: Vec<Diving>,
    /// On leaving each level.
    pub(super) ends: Vec<Diving>,
    /// The planned way up.
    pub(super) way_up: Vec<Leg>,
}

/// The tissues of a briefing.
pub(super) fn body(tissues: &Tissues) -> Body {
    let loadings = tissues.loadings();
    Body {
        nitrogen: loadings.map(|loading| loading.n2_bar),
        helium: loadings.map(|loading| loading.he_bar),
    }
}

/// A dive that is flown from some tissues along some levels.
pub(super) struct Dived<'d> {
    pub(super) start: Body,
    pub(super) levels: &'d [Level],
    pub(super) schedule: &'d Schedule,
}

pub(super) fn judge(rules: &Rules<'_>, dived: &Dived<'_>) -> Result<Flown, Objection> {
    let schedule = dived.schedule;
    let flown = down_and_along(rules, dived)?;
    let last = flown.ends.last().ok_or_else(|| Objection {
        question: Question::Segments,
        what: "there is no level".to_owned(),
    })?;
    same(
        Question::Segments,
        schedule.bottom_time.as_min(),
        last.run_min,
        MINUTES,
        || "bottom time".to_owned(),
    )?;
    judge_moments(&flown, schedule)?;
    // All legs of the dive, and not those of this level alone.
    compare(&last.legs, &schedule.way_down, "on the way down")?;
    let up = way_up(rules, last).map_err(|_| Objection {
        question: Question::Segments,
        what: "there is no way up".to_owned(),
    })?;
    compare(&up.legs, &schedule.way_up, "on the way up")?;
    let mut whole = last.legs.clone();
    for leg in &up.legs {
        join(&mut whole, *leg);
    }
    compare(&whole, &schedule.segments, "on the dive")?;
    sure(Question::Segments, up.staged == schedule.staged, || {
        format!("whether stops are compulsory: {} found", up.staged)
    })?;
    let anchor_m = schedule.factors.anchor().map(|anchor| anchor.as_m());
    sure(Question::Segments, anchor_m == up.anchor_m, || {
        format!(
            "the anchor: {anchor_m:?} m in the briefing, {:?} m found",
            up.anchor_m
        )
    })?;
    // Of a no-stop dive the high one holds everywhere.
    let low = if up.staged { rules.low } else { rules.high };
    let factors = [
        (schedule.factors.low(), low),
        (schedule.factors.high(), rules.high),
    ];
    for (said, found) in factors {
        same(Question::Segments, said, found, FRACTION, || {
            "gradient factor".to_owned()
        })?;
    }
    judge_tissues(rules, dived)?;
    let way_up = up.legs;
    Ok(Flown { way_up, ..flown })
}

/// Flies the levels, and judges the rises between them.
fn down_and_along(rules: &Rules<'_>, dived: &Dived<'_>) -> Result<Flown, Objection> {
    let mut diving = Diving::splash(rules, dived.start);
    let (mut arrivals, mut ends, mut rises) = (Vec::new(), Vec::new(), Vec::new());
    let mut end_min = 0.0;
    for level in dived.levels {
        let depth_m = level.depth.as_m();
        end_min += level.time.as_min();
        if depth_m < diving.depth_m {
            if passes_the_ceiling(rules, &diving, depth_m) {
                rises.push((diving.depth_m, depth_m));
            }
            diving.travel(rules, SegmentKind::Ascent, depth_m, rules.ascent);
        } else {
            diving.travel(rules, SegmentKind::Descent, depth_m, rules.descent);
        }
        sure(
            Question::Segments,
            diving.run_min <= end_min + MINUTES,
            || format!("the level at {depth_m} m is shorter than the way to it"),
        )?;
        arrivals.push(diving.clone());
        diving.stay(rules, SegmentKind::Level, end_min);
        ends.push(diving.clone());
    }
    judge_rises(&rises, dived.schedule)?;
    Ok(Flown {
        arrivals,
        ends,
        way_up: Vec::new(),
    })
}

/// Whether a rise passes the ceiling of the low factor.
fn passes_the_ceiling(rules: &Rules<'_>, from: &Diving, to_m: f64) -> bool {
    let rise_m = from.depth_m - to_m;
    (1..=RISE_STEPS).any(|step| {
        let at_m = from.depth_m - rise_m * f64::from(step) / f64::from(RISE_STEPS);
        let minutes = (from.depth_m - at_m) / rules.ascent;
        let there = rules.after(&from.body, from.depth_m, at_m, minutes, from.gas);
        !rules.within(&there, at_m, rules.low)
    })
}

/// The rises that pass it, from and to, are those reported, in order: a plan may hold the same rise
/// twice, and one of the two pass.
fn judge_rises(found: &[(f64, f64)], schedule: &Schedule) -> Judged {
    let said = schedule.breaches.iter();
    let said: Vec<_> = said
        .map(|breach| (breach.from.as_m(), breach.to.as_m()))
        .collect();
    let mut pairs = said.iter().zip(found);
    let same = pairs.all(|(said, found)| {
        (said.0 - found.0).abs() <= METRES && (said.1 - found.1).abs() <= METRES
    });
    sure(Question::Rise, same && said.len() == found.len(), || {
        format!(
            "rises through the ceiling of the low factor: {said:?} in the briefing, {found:?} found"
        )
    })
}

/// The diver on arriving at each level and on leaving it.
fn judge_moments(flown: &Flown, schedule: &Schedule) -> Judged {
    let said = [&schedule.arrivals, &schedule.level_ends];
    for (said, found) in said.into_iter().zip([&flown.arrivals, &flown.ends]) {
        sure(Question::Segments, said.len() == found.len(), || {
            format!(
                "{} levels in the briefing, {} found",
                said.len(),
                found.len()
            )
        })?;
        for (said, found) in said.iter().zip(found) {
            judge_moment(said, found)?;
        }
    }
    Ok(())
}

fn judge_moment(said: &Moment, found: &Diving) -> Judged {
    let at = || format!("at the level of {} m", found.depth_m);
    let (run, depth) = (said.run_time.as_min(), said.depth.as_m());
    same(Question::Segments, run, found.run_min, MINUTES, || {
        format!("run time {}", at())
    })?;
    same(Question::Segments, depth, found.depth_m, METRES, || {
        format!("depth {}", at())
    })?;
    let deepest = said.deepest.as_m();
    same(Question::Segments, deepest, found.deepest_m, METRES, || {
        format!("deepest {}", at())
    })?;
    let said = body(&said.tissues);
    let apart = found.body.apart(&said.nitrogen, &said.helium);
    same(Question::Tissues, apart, 0.0, TISSUE_BAR, || {
        format!("distance of the tissues {}", at())
    })
}

/// Legs found against segments said.
pub(super) fn compare(found: &[Leg], said: &[Segment], whereabouts: &str) -> Judged {
    for (index, said) in said.iter().enumerate() {
        let place = || {
            format!(
                "{:?} from {} m to {} m {whereabouts}, minute {} to {}",
                said.kind,
                said.from.as_m(),
                said.to.as_m(),
                said.start.as_min(),
                said.end.as_min()
            )
        };
        let found = found.get(index);
        let Some(found) = found.filter(|found| found.kind == said.kind) else {
            return sure(Question::Segments, false, || {
                let found = found.map(|leg| format!("{:?} at {} m", leg.kind, leg.from_m));
                format!("{}: {} found", place(), found.as_deref().unwrap_or("none"))
            });
        };
        let pairs = [
            ("from", said.from.as_m(), found.from_m, METRES),
            ("to", said.to.as_m(), found.to_m, METRES),
            ("start", said.start.as_min(), found.start_min, MINUTES),
            ("end", said.end.as_min(), found.end_min, MINUTES),
        ];
        for (what, said, found, distance) in pairs {
            same(Question::Segments, said, found, distance, || {
                format!("{}: {what}", place())
            })?;
        }
        sure(Question::Segments, found.gas.is(said.gas.into()), || {
            format!("{}: another gas", place())
        })?;
    }
    sure(Question::Segments, found.len() == said.len(), || {
        format!(
            "{} segments {whereabouts}, {} found",
            said.len(),
            found.len()
        )
    })
}

/// Goes along the segments as they stand, whatever they should be: they join, the tissues at the end
/// of each are those said, and nobody is over the plain M-value.
fn judge_tissues(rules: &Rules<'_>, dived: &Dived<'_>) -> Judged {
    let schedule = dived.schedule;
    let mut now = dived.start;
    let start = body(&schedule.start.tissues);
    let apart = now.apart(&start.nitrogen, &start.helium);
    same(Question::Tissues, apart, 0.0, TISSUE_BAR, || {
        "distance of the tissues at the start".to_owned()
    })?;
    let (mut depth_m, mut run_min) = (0.0, 0.0);
    // Who comes over it before the dive is not held to it until that is over.
    let mut held_to_it = rules.within(&now, 0.0, 1.0);
    sure(
        Question::Segments,
        schedule.ends.len() == schedule.segments.len(),
        || "there is not one moment for each segment".to_owned(),
    )?;
    for (segment, end) in schedule.segments.iter().zip(&schedule.ends) {
        let (from_m, to_m) = (segment.from.as_m(), segment.to.as_m());
        let (start, leave) = (segment.start.as_min(), segment.end.as_min());
        let minutes = leave - start;
        let joins = (from_m - depth_m).abs() <= METRES && (start - run_min).abs() <= MINUTES;
        sure(Question::Segments, joins && minutes > 0.0, || {
            format!("the segments do not join at minute {run_min}")
        })?;
        let gas = segment.gas.into();
        let reported = rise_is_reported(schedule, segment);
        let pace = rules.table.pace(minutes, now.meets_helium(gas));
        let mut most_over = f64::NEG_INFINITY;
        now.go(&pace, &rules.stretch(from_m, to_m, gas), |body, ambient| {
            let over = rules.table.over(body, ambient, 1.0) - rules.lean_bar;
            if held_to_it && !reported {
                most_over = most_over.max(over);
            } else {
                held_to_it = over <= 0.0;
            }
        });
        sure(Question::MValue, most_over <= 0.0, || {
            format!(
                "between minute {start} and {leave} a compartment is {most_over} bar over its M-value"
            )
        })?;
        let said = body(&end.tissues);
        let apart = now.apart(&said.nitrogen, &said.helium);
        same(Question::Tissues, apart, 0.0, TISSUE_BAR, || {
            format!("distance of the tissues at minute {leave}")
        })?;
        (depth_m, run_min) = (to_m, leave);
    }
    sure(Question::Segments, depth_m.abs() <= METRES, || {
        "the dive does not end at the surface".to_owned()
    })?;
    let said = body(&schedule.tissues);
    let apart = now.apart(&said.nitrogen, &said.helium);
    same(Question::Tissues, apart, 0.0, TISSUE_BAR, || {
        "distance of the tissues on surfacing".to_owned()
    })?;
    sure(
        Question::Tissues,
        rules.within(&now, 0.0, rules.high),
        || "a compartment surfaces above the high factor".to_owned(),
    )?;
    let (fraction, compartment) = rules.table.gradient(&now, rules.surface_bar);
    let surfacing = &schedule.surfacing;
    same(
        Question::Tissues,
        surfacing.fraction,
        fraction,
        FRACTION,
        || "gradient on surfacing".to_owned(),
    )?;
    let said = leading(rules, &now, surfacing.index);
    let lead = surfacing.index == compartment || (said - fraction).abs() <= FRACTION;
    sure(Question::Tissues, lead, || {
        format!("compartment {} leads on surfacing", compartment + 1)
    })
}

/// The gradient of one compartment at the surface.
fn leading(rules: &Rules<'_>, body: &Body, index: usize) -> f64 {
    let mut alone = *body;
    for other in (0..16).filter(|other| *other != index) {
        alone.nitrogen[other] = 0.0;
        alone.helium[other] = 0.0;
    }
    rules.table.gradient(&alone, rules.surface_bar).0
}

/// Whether a segment is a rise between levels that the briefing says to pass a ceiling.
fn rise_is_reported(schedule: &Schedule, segment: &Segment) -> bool {
    let rises = segment.kind == SegmentKind::Ascent;
    let mut breaches = schedule.breaches.iter();
    // Rises with no pause between them are one segment.
    rises
        && breaches.any(|breach| {
            let (from_m, to_m) = (breach.from.as_m(), breach.to.as_m());
            from_m <= segment.from.as_m() + METRES && to_m >= segment.to.as_m() - METRES
        })
}
