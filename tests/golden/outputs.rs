//! The goldens: what the commands say, word by word.

use crate::files::{Golden, compare, hold};
use crate::program::plans;

/// The name of the golden of a plan's briefing.
pub(crate) fn brief_of(plan: &str) -> String {
    format!("brief-{plan}")
}

#[test]
fn every_plan_of_the_charter_is_briefed_as_its_golden_has_it() {
    for plan in plans() {
        compare(&brief_of(&plan), &["brief", &format!("plans/{plan}.toml")]);
    }
}

/// A test a group, and all of the groups in [`GROUPS`]: `test_name: GROUP;`
macro_rules! groups {
    ($($test:ident: $group:ident;)+) => {
        pub(crate) const GROUPS: &[&[Golden]] = &[$($group),+];
        $(#[test]
        fn $test() {
            hold($group);
        })+
    };
}

groups! {
    a_briefing_reads_in_the_other_units_as_its_golden_has_it: OTHER_UNITS;
    the_what_ifs_read_as_their_goldens_have_them: WHAT_IFS;
    the_check_of_the_charter_reads_as_its_golden_has_it: CHECKS;
    the_limits_read_as_their_goldens_have_them: LIMITS;
    the_gases_read_as_their_goldens_have_them: MIXES;
    the_traces_read_as_their_goldens_have_them: TRACES;
    the_sheets_are_written_as_their_goldens_have_them: SHEETS;
    the_days_read_as_their_goldens_have_them: DAYS;
    the_debriefs_read_as_their_goldens_have_them: DEBRIEFS;
    the_explanations_read_as_their_goldens_have_them: EXPLANATIONS;
    the_keys_read_as_their_goldens_have_them: KEYS;
    the_starters_read_as_their_goldens_have_them: STARTERS;
}

/// `"name": "word" "word" …;`
macro_rules! goldens {
    ($($name:literal: $($argument:literal)+;)+) => {
        &[$(Golden { name: $name, arguments: &[$($argument),+] }),+]
    };
}

const OTHER_UNITS: &[Golden] = goldens! {
    "brief-anvil-imperial": "brief" "plans/anvil.toml" "--units" "imperial";
    "brief-orla-finch-metric": "brief" "plans/orla-finch.toml" "--units" "metric";
};

const WHAT_IFS: &[Golden] = goldens! {
    "whatif-skua-stack": "whatif" "plans/skua-stack.toml";
    "whatif-orla-finch-stern": "whatif" "plans/orla-finch-stern.toml";
    "whatif-tern-slack": "whatif" "plans/tern-slack.toml";
    "whatif-long-ledge": "whatif" "plans/long-ledge.toml";
    "whatif-kittiwake-wall-chosen": "whatif" "plans/kittiwake-wall.toml"
        "--late" "4min,8min" "--deeper" "5m" "--harder" "40%";
};

const CHECKS: &[Golden] = goldens! {
    "check-plans": "check" "plans";
};

const LIMITS: &[Golden] = goldens! {
    "limits": "limits";
    "limits-two-gases-two-factors": "limits" "--gas" "air,EAN32" "--factors" "40/85,30/70";
    "limits-imperial": "limits" "--units" "imperial";
    "limits-csv": "limits" "--format" "csv";
    "limits-at-altitude": "limits" "--water" "fresh" "--altitude" "1640 m" "--to" "20 m";
    "limits-arrived": "limits" "--water" "fresh" "--altitude" "1640 m" "--to" "20 m"
        "--arrived" "50 min" "--home-altitude" "20 m";
    "limits-tern-slack": "limits" "plans/tern-slack.toml" "--to" "20 m";
    "limits-too-many-depths": "limits" "--step" "0.3m";
};

const MIXES: &[Golden] = goldens! {
    "mix-ean32": "mix" "EAN32" "--depth" "24m";
    "mix-air": "mix" "air";
    "mix-best-for-30m": "mix" "--best-for" "30m" "--units" "imperial";
    "mix-no-go": "mix" "EAN50" "--depth" "30m" "--blend" "200 bar";
    "mix-too-lean": "mix" "10/70";
    "mix-trimix-blend": "mix" "18/45" "--depth" "50m" "--blend" "200 bar" "--from" "40 bar 21/35";
    "mix-imperial-blend": "mix" "EAN36" "--blend" "3000 psi" "--from" "500 psi EAN32"
        "--temperature" "68 F" "--units" "imperial";
    "mix-blend-impossible": "mix" "EAN36" "--blend" "200 bar" "--from" "195 bar EAN32";
    "mix-ean32-json": "mix" "EAN32" "--depth" "24m" "--blend" "200 bar" "--from" "60 bar EAN28"
        "--format" "json";
};

/// A no-stop dive and one with stops and a gas switch.
const TRACES: &[Golden] = goldens! {
    "trace-lesson-2-no-stop": "trace" "plans/lesson-2-no-stop.toml" "--step" "5min";
    "trace-long-ledge": "trace" "plans/long-ledge.toml" "--step" "10min";
    "trace-hollin-tarn-same-day": "trace" "plans/hollin-tarn-same-day.toml" "--step" "10min";
    "trace-lesson-2-no-stop-csv": "trace" "plans/lesson-2-no-stop.toml" "--step" "5min"
        "--format" "csv";
};

/// A go with an hour to be home by, a dive of it whole, and a day too long by intervals.
/// A dive with stops, a no-go and a day as they are printed, the half page and the slate.
const SHEETS: &[Golden] = goldens! {
    "sheet-long-ledge": "sheet" "plans/long-ledge.toml";
    "sheet-kelp-steps": "sheet" "plans/kelp-steps.toml";
    "sheet-day": "sheet" "plans/kittiwake-wall.toml" "plans/slack-water.toml" "--home-by" "15:00";
    "sheet-skua-stack-skipper": "sheet" "plans/skua-stack.toml" "--skipper" "--paper" "a4";
    "sheet-long-ledge-slate": "sheet" "plans/long-ledge.toml" "--slate";
};

const DAYS: &[Golden] = goldens! {
    "day-wall-and-slack": "day" "plans/kittiwake-wall.toml" "plans/slack-water.toml"
        "--home-by" "15:00";
    "day-wall-and-slack-brief-2": "day" "plans/kittiwake-wall.toml" "plans/slack-water.toml"
        "--brief" "2";
    "day-by-intervals": "day" "plans/sand-garden.toml" "plans/kittiwake-wall.toml"
        "plans/slack-water.toml" "--interval" "40 min" "--interval" "1 h" "--home-by" "11:30";
    "day-overlap": "day" "plans/sand-garden.toml" "plans/skua-stack.toml";
};

/// A charter's day, by a slate, a table and UDDF; a dive that went wrong; records that are none.
const DEBRIEFS: &[Golden] = goldens! {
    "debrief-kittiwake-wall": "debrief" "plans/kittiwake-wall.toml"
        "examples/records/kittiwake-wall-pencil.toml" "examples/records/kittiwake-wall-mara.csv"
        "examples/records/kittiwake-wall-idris.uddf";
    "debrief-slack-water": "debrief" "plans/slack-water.toml"
        "examples/records/slack-water-pencil.toml" "--units" "imperial";
    "debrief-long-ledge": "debrief" "plans/long-ledge.toml" "Nils=tests/data/bolted.csv";
    "debrief-mistakes": "debrief" "plans/slack-water.toml" "tests/data/slate-mistakes.toml";
    "debrief-backwards": "debrief" "plans/slack-water.toml" "Tove=tests/data/backwards.csv";
};

const KEYS: &[Golden] = goldens! {
    "keys": "keys";
    "keys-record": "keys" "--record";
    "keys-diver-narrow": "keys" "diver" "--columns" "40";
    "keys-site-json": "keys" "site" "--format" "json";
};

const STARTERS: &[Golden] = goldens! {
    "new": "new" "-";
    "new-imperial": "new" "--imperial" "--divers" "3" "-";
};

const EXPLANATIONS: &[Golden] = goldens! {
    "explain-lesson-2-no-stop-limit": "explain" "plans/lesson-2-no-stop.toml" "--limit";
    "explain-long-ledge-stop-6m": "explain" "plans/long-ledge.toml" "--stop" "6m";
    "explain-skua-stack-gas-hanne": "explain" "plans/skua-stack.toml" "--gas" "Hanne";
    "explain-tern-slack-interval": "explain" "plans/tern-slack.toml" "--interval";
    "explain-tern-slack-interval-longer": "explain" "plans/tern-slack.toml" "--interval"
        "--bottom-time" "46 min";
    "explain-tern-slack-limit": "explain" "plans/tern-slack.toml" "--limit";
    "explain-hollin-tarn-same-day-interval": "explain" "plans/hollin-tarn-same-day.toml"
        "--interval";
    "explain-anvil-no-interval": "explain" "plans/anvil.toml" "--interval";
    "explain-anvil-fly": "explain" "plans/anvil.toml" "--fly" "--cabin-altitude" "3000 m";
    "explain-long-ledge-no-such-stop": "explain" "plans/long-ledge.toml" "--stop" "33m";
};
