//! Which figures are explained, in which order.

use super::steps::{ExplainError, Explanation, Step, Topic};
use super::{flying, gas, interval, limit, stop};
use crate::briefing::Briefing;
use crate::letters::composed;
use crate::quantity::show::Show;
use crate::quantity::{Depth, UnitSystem};

/// Explains the chosen figures of a briefing, in the order chosen; all of them where nothing is.
///
/// Depths in titles, gauge pressures and volumes of ponies are also given in `units`, or in those
/// of the diver's own gauge; the lines themselves are in metres, bar, litres and minutes.
///
/// # Errors
/// [`ExplainError::NoStop`] and [`ExplainError::NoDiver`] where the dive has no such stop or
/// diver; [`ExplainError::NoInterval`] where it is the first of the day and nobody has come from
/// another altitude.
///
/// # Example
/// ```
/// use hangbar::explain::{ExplainError, Topic, explain};
/// use hangbar::briefing::brief;
/// use hangbar::plan_file;
/// use hangbar::quantity::Depth;
///
/// let plan = plan_file::read("[profile]\ndepth = \"36 m\"\nbottom_time = \"22 min\"")?;
/// let briefing = brief(plan)?;
/// assert!(briefing.schedule.staged);
/// let all = explain(&briefing, &[], briefing.plan.units())?;
/// assert!(all.len() > 2 && all[0].topic == Topic::Limit);
/// let nowhere = explain(&briefing, &[Topic::Stop(Depth::from_m(33.0))], briefing.plan.units());
/// assert!(matches!(nowhere, Err(ExplainError::NoStop { .. })));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn explain(
    briefing: &Briefing,
    topics: &[Topic],
    units: UnitSystem,
) -> Result<Vec<Explanation>, ExplainError> {
    let stops = stop::stops(briefing, units);
    let everything: Vec<Topic>;
    let topics = if topics.is_empty() {
        everything = all_topics(briefing, &stops);
        &everything
    } else {
        topics
    };
    let mut explanations = Vec::new();
    for topic in topics {
        explanations.extend(explained(briefing, &stops, topic, units)?);
    }
    Ok(explanations)
}

/// The time at the surface where there is one, the limit, each depth of a stop, each diver, and the
/// wait before a flight.
fn all_topics(briefing: &Briefing, stops: &[stop::StopWriter<'_>]) -> Vec<Topic> {
    let mut depths: Vec<Depth> = stops.iter().map(stop::StopWriter::depth).collect();
    depths.dedup();
    let names = briefing.divers.iter().map(|diver| diver.name.clone());
    let interval = (!briefing.rests.is_empty()).then_some(Topic::Interval);
    interval
        .into_iter()
        .chain([Topic::Limit])
        .chain(depths.into_iter().map(Topic::Stop))
        .chain(names.map(Topic::Gas))
        .chain([Topic::Flying])
        .collect()
}

/// One topic; several explanations where a depth is stopped at more than once, or the divers came
/// from another altitude and have dived.
fn explained(
    briefing: &Briefing,
    stops: &[stop::StopWriter<'_>],
    topic: &Topic,
    units: UnitSystem,
) -> Result<Vec<Explanation>, ExplainError> {
    let explanation = |topic: Topic, (title, steps): (String, Vec<Step>)| Explanation {
        topic,
        title,
        steps,
    };
    match topic {
        Topic::Interval => {
            let explained = interval::explain(briefing, units).into_iter();
            let found: Vec<Explanation> = explained
                .map(|explained| explanation(Topic::Interval, explained))
                .collect();
            if found.is_empty() {
                return Err(ExplainError::NoInterval);
            }
            Ok(found)
        }
        Topic::Limit => Ok(vec![explanation(
            Topic::Limit,
            limit::explain(briefing, units),
        )]),
        Topic::Stop(depth) => {
            let asked = Show(units).depth(*depth);
            let there = stops.iter().filter(|stop| stop.shown_depth() == asked);
            let found: Vec<Explanation> = there
                .map(|stop| explanation(Topic::Stop(stop.depth()), stop.explain()))
                .collect();
            if found.is_empty() {
                let known = known_stops(stops);
                return Err(ExplainError::NoStop { asked, known });
            }
            Ok(found)
        }
        Topic::Gas(name) => {
            let called = composed(name);
            let index = briefing
                .divers
                .iter()
                .position(|diver| diver.name == called);
            let index = index.ok_or_else(|| ExplainError::NoDiver {
                asked: name.clone(),
                known: known_divers(briefing),
            })?;
            let explained = gas::explain(briefing, index, units);
            Ok(vec![explanation(Topic::Gas(called), explained)])
        }
        Topic::Flying => Ok(vec![explanation(
            Topic::Flying,
            flying::explain(briefing, units),
        )]),
    }
}

fn known_stops(stops: &[stop::StopWriter<'_>]) -> String {
    let mut depths: Vec<String> = stops.iter().map(stop::StopWriter::shown_depth).collect();
    depths.dedup();
    match depths.as_slice() {
        [] => "this dive makes none".to_owned(),
        depths => format!("this dive stops at {}", listed(depths)),
    }
}

fn known_divers(briefing: &Briefing) -> String {
    let names: Vec<String> = briefing.divers.iter().map(|d| d.name.clone()).collect();
    match names.as_slice() {
        [] => "the plan has no divers".to_owned(),
        names => format!("the plan has {}", listed(names)),
    }
}

/// `12 m, 9 m and 6 m`
fn listed(words: &[String]) -> String {
    match words.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    }
}
