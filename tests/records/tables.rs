//! Good tables: every unit, separator and form of a time.

use approx::assert_relative_eq;
use hangbar::quantity::{FOOT_M, PSI_BAR};
use hangbar::record::{ReadingFault, SampledLog, read_csv};
use hangbar::site::Mix;

/// Sums and products of a conversion.
const ROUNDED: f64 = 1e-12;

fn read(text: &str) -> SampledLog {
    let logs = read_csv(text.as_bytes()).unwrap_or_else(|refused| panic!("{refused}\n{text}"));
    let [log] = logs.as_slice() else {
        panic!("{} logs", logs.len());
    };
    log.clone()
}

/// Minutes, metres, bar.
fn rows(log: &SampledLog) -> Vec<(f64, f64, Option<f64>)> {
    let readings = log.readings.iter();
    readings
        .map(|reading| {
            let pressure = reading
                .pressure
                .map(hangbar::quantity::GaugePressure::as_bar);
            (reading.time.as_min(), reading.depth.as_m(), pressure)
        })
        .collect()
}

#[test]
fn a_table_with_all_columns_arrives() {
    let log = read(
        "# Kittiwake Wall, left computer\n# diver: Mara\n\ntime (min),depth (m),pressure (bar),gas\n\
         0,0,200,air\n1.5,18.2,195.5,\n\n# the camera\n20,18.4,,\n22,6,90,EAN50\n25,0,85,\n",
    );
    assert_eq!(log.diver.as_deref(), Some("Mara"));
    assert_eq!((log.number, &log.begins), (1, &None));
    assert_eq!(
        rows(&log),
        [
            (0.0, 0.0, Some(200.0)),
            (1.5, 18.2, Some(195.5)),
            (20.0, 18.4, None),
            (22.0, 6.0, Some(90.0)),
            (25.0, 0.0, Some(85.0)),
        ]
    );
    let lines: Vec<u64> = log.readings.iter().map(|reading| reading.line).collect();
    assert_eq!(lines, [5, 6, 9, 10, 11]);
    let gases: Vec<Option<Mix>> = log.readings.iter().map(|reading| reading.gas).collect();
    let rich = "EAN50".parse().unwrap();
    assert_eq!(gases, [Some(Mix::AIR), None, None, Some(rich), None]);
    assert_eq!(log.faults, []);
}

#[test]
fn every_spelling_of_a_header_says_the_same() {
    for header in [
        "time (min),depth (m),pressure (bar)",
        "Time [min],DEPTH [M],Pressure [Bar]",
        "time_min,depth_m,pressure_bar",
        "time min,depth m,pressure bar",
        "time(min), depth(m) , pressure  ( bar )",
        "\"time (min)\",\"depth (m)\",\"pressure (bar)\"",
        "\u{feff}time (min),depth (m),pressure (bar)",
    ] {
        let log = read(&format!("{header}\n0,0,200\n10,20,150\n"));
        assert_eq!(
            rows(&log),
            [(0.0, 0.0, Some(200.0)), (10.0, 20.0, Some(150.0))],
            "{header}"
        );
    }
}

#[test]
fn columns_may_stand_in_any_order_and_be_left_out() {
    let log = read("gas,pressure (bar),depth (m),time (min)\nair,200,0,0\n,150,20,10\n");
    assert_eq!(
        rows(&log),
        [(0.0, 0.0, Some(200.0)), (10.0, 20.0, Some(150.0))]
    );
    let log = read("depth (m),time (min)\n0,0\n20,10\n");
    assert_eq!(rows(&log), [(0.0, 0.0, None), (10.0, 20.0, None)]);
}

#[test]
fn every_form_of_a_time_is_read() {
    for (unit, cells, minutes) in [
        ("s", ["0", "90", "150.5"], [0.0, 1.5, 150.5 / 60.0]),
        ("min", ["0", "1.5", "63."], [0.0, 1.5, 63.0]),
        ("h", ["0", "0.5", "1.25"], [0.0, 30.0, 75.0]),
        (
            "h:mm:ss",
            ["0:00:00", "12:30", "1:02:30"],
            [0.0, 12.5, 62.5],
        ),
        ("mm:ss", ["00:00", "12:30", "75:30"], [0.0, 12.5, 75.5]),
        (
            "min:s",
            ["0:0", "12:3", "12:30.5"],
            [0.0, 12.05, 12.0 + 30.5 / 60.0],
        ),
    ] {
        let [first, second, third] = cells;
        let log = read(&format!(
            "time ({unit}),depth (m)\n{first},0\n{second},9\n{third},10\n"
        ));
        for (reading, want) in log.readings.iter().zip(minutes) {
            assert_relative_eq!(reading.time.as_min(), want, epsilon = ROUNDED);
        }
    }
}

#[test]
fn feet_and_psi_are_read() {
    let log = read("time (min),depth (ft),pressure (psi)\n0,0,3000\n10,60,2000\n");
    let [_, (minutes, metres, Some(bar))] = rows(&log)[..] else {
        panic!("two readings with pressures");
    };
    assert_relative_eq!(minutes, 10.0);
    assert_relative_eq!(metres, 60.0 * FOOT_M, epsilon = ROUNDED);
    assert_relative_eq!(bar, 2000.0 * PSI_BAR, epsilon = ROUNDED);
}

#[test]
fn semicolons_and_tabs_separate_and_let_numbers_have_commas() {
    for mark in [";", "\t"] {
        let text = "time (min);depth (m);pressure (bar)\n0;0;200\n1,5;18,2;195,5\n20;18;\n";
        let log = read(&text.replace(';', mark));
        assert_eq!(
            rows(&log),
            [
                (0.0, 0.0, Some(200.0)),
                (1.5, 18.2, Some(195.5)),
                (20.0, 18.0, None)
            ]
        );
        assert_eq!(log.faults, [ReadingFault::DecimalCommas { line: 3 }]);
        let log = read(&text.replace(',', ".").replace(';', mark));
        assert_relative_eq!(log.readings[1].depth.as_m(), 18.2);
        assert_eq!(log.faults, []);
    }
}

#[test]
fn line_ends_and_quotes_of_other_systems_do_not_matter() {
    let plain = "time (min),depth (m)\n0,0\n10,20\n20,0\n";
    let wanted = rows(&read(plain));
    assert_eq!(rows(&read(&plain.replace('\n', "\r\n"))), wanted);
    assert_eq!(rows(&read(plain.trim_end())), wanted);
    assert_eq!(
        rows(&read(&plain.replace("10,20", "\"10\",\"20\""))),
        wanted
    );
    assert_eq!(rows(&read(&plain.replace("10,20", " 10 ,  20"))), wanted);
    assert_eq!(
        rows(&read(&format!("\u{feff}# by hand\r\n\r\n{plain}"))),
        wanted
    );
}

#[test]
fn a_diver_may_be_named_anywhere_and_twice_the_same() {
    let log = read("time (s),depth (m)\n0,0\n# Diver : Jón á Skógum \n9,5\n#diver:Jón á Skógum\n");
    assert_eq!(log.diver.as_deref(), Some("Jón á Skógum"));
    let log = read("# divers: two\n# cold\ntime (s),depth (m)\n0,0\n9,5\n");
    assert_eq!(log.diver, None);
}

#[test]
fn what_a_logger_says_twice_is_passed_over_and_noted_once() {
    let log = read("time (s),depth (m)\n0,0\n10,5\n10,5\n10,5\n20,9\n20,9\n");
    assert_eq!(log.readings.len(), 3);
    assert_eq!(log.faults, [ReadingFault::Repeated { line: 4 }]);
}

#[test]
fn a_little_above_the_surface_is_the_surface() {
    let log = read("time (s),depth (m)\n0,-0.2\n10,5\n20,5\n20,5\n30,-1\n");
    let depths: Vec<f64> = log
        .readings
        .iter()
        .map(|reading| reading.depth.as_m())
        .collect();
    assert_eq!(depths, [0.0, 5.0, 5.0, 0.0]);
    let [
        ReadingFault::AboveSurface { line: 2, by },
        ReadingFault::Repeated { line: 5 },
    ] = log.faults[..]
    else {
        panic!("{:?}", log.faults);
    };
    assert_relative_eq!(by.as_m(), 0.2);
}

/// A limit, and one step past it.
#[test]
fn limits_are_within() {
    for (row, is_read) in [
        ("10,200,0", true),
        ("10,200.1,0", false),
        ("10,-1,0", true),
        ("10,-1.1,0", false),
        ("10,20,450", true),
        ("10,20,450.1", false),
        ("1445,20,0", true),
        ("1445.1,20,0", false),
    ] {
        let text = format!("time (min),depth (m),pressure (bar)\n5,0.4,0\n{row}\n");
        assert_eq!(read_csv(text.as_bytes()).is_ok(), is_read, "{text}");
    }
    for (depth, is_read) in [("0.3", false), ("0.31", true)] {
        let text = format!("time (min),depth (m)\n0,0\n10,{depth}\n");
        assert_eq!(read_csv(text.as_bytes()).is_ok(), is_read, "{text}");
    }
}

#[test]
fn a_clock_of_the_logger_need_not_begin_at_nought() {
    let log = read("time (s),depth (m)\n86000,0\n86400,5\n90000,0\n");
    assert_relative_eq!(log.readings[1].time.as_min(), 1440.0);
}
