//! A hang at the end.

use approx::assert_abs_diff_eq;
use hangbar::briefing::brief;
use hangbar::gas::WorseBecause;
use hangbar::plan_file::read;

use crate::pencil::{BAR, LITRES, briefed, codes};

#[test]
fn a_hang_asks_of_each_diver_the_way_up_and_its_minutes_on_the_own_gas() {
    // 10 min at 6 m: 16.1325/1.01325 = 15.921540 atm·min; with the way up, 62.897853 − 54.641007
    // = 8.256846: 24.178386, Ada 362.6758 L and Ben 483.5677: the reserve for two, 579.2487, is
    // more for both.
    let without = briefed(&[]);
    let short = briefed(&[(
        "floor = \"0 bar\"",
        "floor = \"0 bar\"\nhang = { depth = \"6 m\", time = \"10 min\" }",
    )]);
    assert_eq!(without.schedule, short.schedule);
    for (plain, hanging) in without.divers.iter().zip(&short.divers) {
        assert_eq!(plain.reserve, hanging.reserve);
    }
    // 15 · 15.921540; after the whole dive 2368.6158 − 943.4678 − 238.8231 = 1186.3249 L,
    // · 1.01325/12.
    let ada = short.divers[0].hang.unwrap();
    assert_abs_diff_eq!(ada.takes.as_l(), 238.8231, epsilon = LITRES);
    assert_abs_diff_eq!(ada.left.unwrap().as_bar(), 100.1703, epsilon = BAR);
    // 30 min: 47.764619 and 8.256846 = 56.021465; Ada 840.3220 L, Ben 1120.4293, who leaves the
    // bottom with 881.0264: enough for the reserve, not for the hang.
    let long = briefed(&[(
        "floor = \"0 bar\"",
        "floor = \"0 bar\"\nhang = { depth = \"6 m\", time = \"30 min\" }",
    )]);
    assert_abs_diff_eq!(long.divers[0].reserve.as_l(), 840.3220, epsilon = LITRES);
    assert_abs_diff_eq!(long.divers[1].reserve.as_l(), 1120.4293, epsilon = LITRES);
    assert_eq!(codes(&long), ["hang-short"]);
    assert_eq!(long.findings[0].diver.as_deref(), Some("Ben"));
    assert!(!long.is_go() && without.is_go());
    // With 1120.4293 + 20 · 54.641007 = 2213.2495 L in 10 L, 224.2575 bar, there is a hang too.
    let [(name, fill)] = &long.nearest_go.fills[..] else {
        panic!("{:?}", long.nearest_go.fills);
    };
    assert_eq!((name.as_str(), fill.as_bar()), ("Ben", 225.0));
}

#[test]
fn a_hang_is_not_part_of_what_a_pony_must_cover() {
    let pony = "cylinder = { size = \"12 L\", fill = \"200 bar\" }\npony = { size = \"2 L\", fill = \"200 bar\" }";
    let diver = ("cylinder = { size = \"12 L\", fill = \"200 bar\" }", pony);
    let floor = "floor = \"0 bar\"\nhang = { depth = \"6 m\", time = \"10 min\" }";
    let plain = briefed(&[diver]).divers[0].pony.unwrap();
    let hanging = briefed(&[diver, ("floor = \"0 bar\"", floor)]).divers[0]
        .pony
        .unwrap();
    assert_eq!(plain, hanging);
    // 15 · 1.5 · 11.033309 against 2 · (200 − 10)/1.01325
    assert_abs_diff_eq!(plain.need_full.as_l(), 248.2494, epsilon = LITRES);
    assert_abs_diff_eq!(plain.have.as_l(), 375.0309, epsilon = LITRES);
    // The end of a later level may be the worst one: the same after 5 minutes at 9 m.
    let levels = "[[profile.level]]\ndepth = \"9 m\"\ntime = \"5 min\"\n\
                  [[profile.level]]\ndepth = \"18 m\"\ntime = \"15 min\"";
    let later = briefed(&[
        diver,
        ("depth = \"18 m\"", ""),
        ("bottom_time = \"20 min\"", levels),
    ]);
    let later = later.divers[0].pony.unwrap();
    assert_abs_diff_eq!(later.need_full.as_l(), 248.2494, epsilon = LITRES);
    // 15 · 1.5 · 6.552924
    assert_abs_diff_eq!(later.need_ascent.as_l(), 147.4408, epsilon = LITRES);
}

#[test]
fn a_hang_is_drawn_from_the_main_cylinder_even_where_a_stage_is_breathed() {
    // 18 m for 80 minutes with EAN50, breathed from 15 m up: on the planned way up the main
    // cylinder gives 18 to 15 m alone, 1/3 min at 2.66325 bar = 0.876141 atm·min; the hang of an
    // hour at 6 m is 95.529237. 15 · 96.405378 = 1446.0807 L, more than the reserve.
    let stage = r#"stage = [{ gas = "EAN50", size = "7 L", fill = "200 bar" }]"#;
    let ada = "cylinder = { size = \"12 L\", fill = \"200 bar\" }";
    let ada_new = format!("{ada}\n{stage}");
    let staged = |hang: &str| {
        let floor = format!("floor = \"0 bar\"\n{hang}");
        briefed(&[
            ("bottom_time = \"20 min\"", "bottom_time = \"80 min\""),
            (
                "[model]",
                "[gas]\nbottom = \"air\"\ndecompression = [\"EAN50\"]\n[model]",
            ),
            ("floor = \"0 bar\"", &floor),
            (ada, &ada_new),
        ])
    };
    let plain = staged("");
    let hanging = staged("hang = { depth = \"6 m\", time = \"60 min\" }");
    assert!(plain.schedule.staged, "the dive must switch");
    assert_abs_diff_eq!(
        hanging.divers[0].reserve.as_l(),
        1446.0807,
        epsilon = LITRES
    );
    assert_eq!(plain.divers[0].stages, hanging.divers[0].stages);
}

/// Left after 25 min at 24 m the dive makes stops and switches to EAN50, which spares the main
/// cylinder the long safety stop; left a little earlier it does not. One stretch of minutes, one reason.
#[test]
fn shorter_dives_that_switch_to_no_gas_are_told_as_one_stretch() {
    let left_after = |minutes: u32| {
        let text = format!(
            "[profile]\ndepth = \"24 m\"\nbottom_time = \"{minutes} min\"\n\
             [ascent]\nsafety_stop = {{ depth = \"5 m\", time = \"8 min\" }}\n\
             [gas]\ndecompression = [\"EAN50\"]\n\
             [reserve]\nfloor = \"0 bar\"\nhang = {{ depth = \"5 m\", time = \"20 min\" }}\n\
             [[diver]]\nname = \"Ines\"\nsac = \"20 L/min\"\n\
             cylinder = {{ size = \"12 L\", fill = \"200 bar\" }}\n\
             stage = [{{ gas = \"EAN50\", size = \"7 L\", fill = \"200 bar\" }}]\n"
        );
        brief(read(&text).unwrap()).unwrap()
    };
    let [run] = left_after(25).limits[0].shorter_is_worse[..] else {
        panic!("{:?}", left_after(25).limits[0]);
    };
    assert!(run.from_min < run.to_min && run.to_min == 24, "{run:?}");
    assert!(matches!(run.cause, WorseBecause::NoSwitch(gas) if gas.to_string() == "EAN50"));
    for minutes in run.from_min - 3..=25 {
        let dive = left_after(minutes);
        let is_worse = (run.from_min..=run.to_min).contains(&minutes);
        assert_eq!(dive.divers[0].reserve_holds(), !is_worse, "{minutes} min");
        assert_eq!(dive.schedule.staged, minutes == 25, "{minutes} min");
    }
}
