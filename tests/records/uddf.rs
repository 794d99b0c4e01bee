//! Good UDDF files.

use approx::assert_relative_eq;
use hangbar::record::{ReadingFault, SampledLog, read_uddf};
use hangbar::site::Mix;

/// Two dives of one diver, with two gases and two cylinders on the first.
pub(crate) const TWO_DIVES: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<uddf version="3.2.0" xmlns="urn:example:uddf">
  <generator><name>a logger &amp; more</name></generator>
  <diver>
    <owner id="owner">
      <personal><firstname>Mara</firstname><lastname>&#213;rn</lastname></personal>
    </owner>
    <buddy id="b"><personal><firstname>Somebody</firstname></personal></buddy>
  </diver>
  <gasdefinitions>
    <mix id="air"><name>air</name><o2>0.2095</o2><n2>0.7808</n2><ar>0.0093</ar></mix>
    <mix id="ean50"><o2>0.50</o2></mix>
    <mix id="deep"><o2>0.18</o2><he>0.45</he><n2>0.37</n2></mix>
  </gasdefinitions>
  <profiledata>
    <repetitiongroup id="r">
      <dive id="d1">
        <informationbeforedive>
          <datetime>2026-08-14T09:40:30+02:00</datetime>
        </informationbeforedive>
        <samples>
          <waypoint>
            <depth>0.0</depth>
            <divetime>0</divetime>
            <switchmix ref="deep"/>
            <tankpressure ref="back">2.0e7</tankpressure>
            <tankpressure ref="stage">1.9e7</tankpressure>
          </waypoint>
          <waypoint>
            <depth>30.5</depth>
            <divetime>120.0</divetime>
            <temperature>281.15</temperature>
          </waypoint>
          <waypoint>
            <depth>21.0</depth>
            <divetime>1500</divetime>
            <tankpressure ref="stage">18000000</tankpressure>
            <switchmix ref="ean50"></switchmix>
          </waypoint>
          <!-- up -->
          <waypoint>
            <depth>-0.1</depth>
            <divetime>2400</divetime>
            <tankpressure ref="back"><![CDATA[9500000]]></tankpressure>
          </waypoint>
        </samples>
        <tankdata id="back"><tankpressurebegin>2.1e7</tankpressurebegin></tankdata>
      </dive>
      <dive id="empty"><samples/></dive>
    </repetitiongroup>
    <repetitiongroup id="s">
      <dive id="d3">
        <informationbeforedive><datetime>2026-08-15T14:05:00</datetime></informationbeforedive>
        <tankdata>
          <tankpressurebegin>20000000</tankpressurebegin>
          <tankpressureend>7000000</tankpressureend>
        </tankdata>
        <tankdata><tankpressurebegin>15000000</tankpressurebegin></tankdata>
        <samples>
          <waypoint><divetime>0</divetime><depth>0</depth></waypoint>
          <waypoint><divetime>60</divetime><depth>12</depth></waypoint>
          <waypoint><divetime>60</divetime><depth>12</depth></waypoint>
          <waypoint><divetime>1800</divetime><depth>0</depth></waypoint>
        </samples>
      </dive>
    </repetitiongroup>
  </profiledata>
</uddf>
"#;

fn read(text: &str) -> Vec<SampledLog> {
    read_uddf(text.as_bytes()).unwrap_or_else(|refused| panic!("{refused}\n{text}"))
}

fn pressures(log: &SampledLog) -> Vec<Option<f64>> {
    let readings = log.readings.iter();
    let bar = |pressure: hangbar::quantity::GaugePressure| pressure.as_bar();
    readings.map(|reading| reading.pressure.map(bar)).collect()
}

#[test]
fn every_dive_with_waypoints_arrives_in_order() {
    let logs = read(TWO_DIVES);
    let numbers: Vec<usize> = logs.iter().map(|log| log.number).collect();
    assert_eq!(numbers, [1, 3]);
    for log in &logs {
        assert_eq!(log.diver.as_deref(), Some("Mara Õrn"));
    }
    let begins = logs[0].begins.as_ref().unwrap();
    assert_eq!(
        (begins.date.as_str(), begins.time.to_string().as_str()),
        ("2026-08-14", "09:40")
    );
    assert_eq!(logs[1].begins.as_ref().unwrap().time.to_string(), "14:05");
}

#[test]
fn the_first_dive_has_its_times_depths_and_gases() {
    let log = &read(TWO_DIVES)[0];
    let minutes: Vec<f64> = log
        .readings
        .iter()
        .map(|reading| reading.time.as_min())
        .collect();
    assert_eq!(minutes, [0.0, 2.0, 25.0, 40.0]);
    let depths: Vec<f64> = log
        .readings
        .iter()
        .map(|reading| reading.depth.as_m())
        .collect();
    assert_eq!(depths, [0.0, 30.5, 21.0, 0.0]);
    let gases: Vec<Option<Mix>> = log.readings.iter().map(|reading| reading.gas).collect();
    let named = |name: &str| Some(name.parse().unwrap());
    assert_eq!(gases, [named("18/45"), None, named("EAN50"), None]);
    assert_eq!(log.readings[0].gas.unwrap().to_string(), "18/45");
    let [ReadingFault::AboveSurface { line, by }] = log.faults[..] else {
        panic!("{:?}", log.faults);
    };
    assert_eq!(
        TWO_DIVES
            .lines()
            .nth(usize::try_from(line).unwrap() - 1)
            .unwrap()
            .trim(),
        "<waypoint>"
    );
    assert_relative_eq!(by.as_m(), 0.1);
}

#[test]
fn the_main_cylinder_is_the_first_that_is_named() {
    let log = &read(TWO_DIVES)[0];
    assert_eq!(pressures(log), [Some(200.0), None, None, Some(95.0)]);
    let unnamed = TWO_DIVES.replace(" ref=\"back\"", "");
    assert_eq!(
        pressures(&read(&unnamed)[0]),
        [Some(200.0), None, None, Some(95.0)]
    );
    let first = "<tankpressure ref=\"back\">2.0e7</tankpressure>";
    let log = &read(&TWO_DIVES.replace(first, ""))[0];
    assert_eq!(pressures(log), [Some(190.0), None, Some(180.0), None]);
}

#[test]
fn without_a_pressure_at_any_waypoint_those_of_the_first_tank_count() {
    let log = &read(TWO_DIVES)[1];
    assert_eq!(pressures(log), [Some(200.0), None, Some(70.0)]);
    let [ReadingFault::Repeated { .. }] = log.faults[..] else {
        panic!("{:?}", log.faults);
    };
    let begin = "<tankpressurebegin>20000000</tankpressurebegin>";
    let log = &read(&TWO_DIVES.replace(begin, ""))[1];
    assert_eq!(pressures(log), [None, None, Some(70.0)]);
}

#[test]
fn prefixes_of_namespaces_do_not_matter() {
    let mut text = String::new();
    for part in TWO_DIVES.split_inclusive('<') {
        text.push_str(part);
    }
    let text = text
        .replace("</", "\u{1}")
        .replace("<?", "\u{2}")
        .replace("<!", "\u{3}")
        .replace('<', "<u:")
        .replace('\u{1}', "</u:")
        .replace('\u{2}', "<?")
        .replace('\u{3}', "<!")
        .replace("xmlns=", "xmlns:u=");
    assert!(text.contains("<u:uddf") && text.contains("</u:waypoint>"));
    assert_eq!(read(&text), read(TWO_DIVES));
}

#[test]
fn gases_may_be_defined_after_the_dives() {
    let (begin, rest) = TWO_DIVES.split_once("  <gasdefinitions>").unwrap();
    let (gases, rest) = rest.split_once("  <profiledata>").unwrap();
    let text = format!("{begin}  <profiledata>{rest}");
    let text = text.replace("</uddf>", &format!("  <gasdefinitions>{gases}</uddf>"));
    let gases = |text: &str| -> Vec<Option<Mix>> {
        read(text)[0]
            .readings
            .iter()
            .map(|reading| reading.gas)
            .collect()
    };
    assert_eq!(gases(&text), gases(TWO_DIVES));
}

#[test]
fn air_is_air_and_oxygen_is_oxygen() {
    for (fractions, name) in [
        ("<o2>0.21</o2>", "air"),
        ("<o2>0.21</o2><he>0.0</he><n2>0.79</n2>", "air"),
        ("<o2>1.0</o2>", "oxygen"),
        ("<o2>0.29</o2>", "EAN29"),
        ("<o2>0.21</o2><he>0.35</he>", "21/35"),
    ] {
        let old = "<o2>0.18</o2><he>0.45</he><n2>0.37</n2>";
        let log = &read(&TWO_DIVES.replace(old, fractions))[0];
        assert_eq!(log.readings[0].gas.unwrap().to_string(), name);
    }
}

#[test]
fn line_ends_blank_text_and_a_byte_order_mark_do_not_matter() {
    let wanted = read(TWO_DIVES);
    assert_eq!(read(&TWO_DIVES.replace('\n', "\r\n")), wanted);
    assert_eq!(read(&format!("\u{feff}{TWO_DIVES}\n\n")), wanted);
    let spaced = TWO_DIVES.replace("<depth>30.5</depth>", "<depth> 30<!-- m -->.5\t</depth >");
    assert_eq!(read(&spaced), wanted);
}

#[test]
fn nobody_and_no_day_are_no_fault() {
    let text = TWO_DIVES
        .replace(
            "<firstname>Mara</firstname><lastname>&#213;rn</lastname>",
            "",
        )
        .replace("2026-08-14T09:40:30+02:00", " ")
        .replace("2026-08-15T14:05:00", "2026-08-15");
    for log in read(&text) {
        assert_eq!((log.diver, log.begins), (None, None));
    }
    let text = TWO_DIVES.replace("<lastname>&#213;rn</lastname>", "<lastname/>");
    assert_eq!(read(&text)[0].diver.as_deref(), Some("Mara"));
}

/// Wherever a file breaks off it is refused, with a line of it.
#[test]
fn a_file_that_breaks_off_is_refused_at_every_byte() {
    let whole = TWO_DIVES.trim_end();
    for length in 0..whole.len() {
        let head = &whole.as_bytes()[..length];
        let refused = read_uddf(head).expect_err("half a file");
        let lines = head.iter().filter(|byte| **byte == b'\n').count() as u64 + 1;
        let line = refused.line.unwrap();
        assert!(
            (1..=lines).contains(&line),
            "{length}: {refused}, of {lines}"
        );
        let reasons = ["breaks off", "ends before", "well-formed", "UTF-8"];
        let is_told = reasons
            .iter()
            .any(|reason| refused.message.contains(reason));
        assert!(is_told, "{length}: {refused}");
    }
    assert!(read_uddf(whole.as_bytes()).is_ok());
}
