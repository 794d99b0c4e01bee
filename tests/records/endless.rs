//! Files that do not end, or hold too much: refused early, and memory stays small.

use std::cell::Cell;
use std::fmt::Write as _;
use std::io::{Read, repeat};

use hangbar::record::{MOST_READINGS, RecordError, SampledLog, read_csv, read_uddf};

/// Counts what is read through it.
struct Counted<'a, R> {
    input: R,
    count: &'a Cell<u64>,
}

impl<R: Read> Read for Counted<'_, R> {
    fn read(&mut self, into: &mut [u8]) -> std::io::Result<usize> {
        let count = self.input.read(into)?;
        self.count.set(self.count.get() + count as u64);
        Ok(count)
    }
}

/// The same bytes over and over.
struct Again {
    bytes: &'static [u8],
    at: usize,
}

impl Read for Again {
    fn read(&mut self, into: &mut [u8]) -> std::io::Result<usize> {
        for byte in into.iter_mut() {
            *byte = self.bytes[self.at];
            self.at = (self.at + 1) % self.bytes.len();
        }
        Ok(into.len())
    }
}

const fn again(bytes: &'static [u8]) -> Again {
    Again { bytes, at: 0 }
}

type Answer = Result<Vec<SampledLog>, RecordError>;

/// Why both readers refuse it, before a mebibyte is read.
fn refused_early(
    read: impl Fn(&mut dyn Read) -> Answer,
    begin: &'static str,
    rest: impl Read,
) -> RecordError {
    let count = Cell::new(0);
    let mut input = Counted {
        input: begin.as_bytes().chain(rest),
        count: &count,
    };
    let refused = read(&mut input).expect_err("no file of a logger");
    assert!(
        count.get() < 1 << 20,
        "{} bytes were read: {refused}",
        count.get()
    );
    refused
}

fn csv(input: &mut dyn Read) -> Answer {
    read_csv(input)
}

fn uddf(input: &mut dyn Read) -> Answer {
    read_uddf(input)
}

#[test]
fn a_gigabyte_of_zeros_is_refused_at_once() {
    for read in [csv, uddf] {
        let refused = refused_early(read, "", repeat(0).take(1 << 30));
        assert_eq!(refused.line, Some(1));
        assert!(refused.message.contains("zero byte"), "{refused}");
    }
    let refused = refused_early(
        csv,
        "time (s),depth (m)\n0,0\n9,5\n",
        repeat(0).take(1 << 30),
    );
    assert_eq!(refused.line, Some(4));
}

#[test]
fn an_endless_line_is_refused() {
    let header = "time (s),depth (m)\n";
    for (begin, line) in [
        ("", 1),
        ("# ", 1),
        (header, 2),
        ("time (s),depth (m)\n\"0", 2),
    ] {
        for rest in [&b"7"[..], b" ", b",", b"\"", b"\xc3\xa9", b"\r"] {
            let refused = refused_early(csv, begin, again(rest));
            assert_eq!(refused.line, Some(line), "{refused}");
            assert!(refused.message.contains("4 KiB"), "{refused}");
        }
    }
    // A cell in quotes ends with its line.
    let refused = refused_early(csv, "time (s),depth (m)\n\"0", again(b"\n"));
    assert!(refused.message.contains("quotation mark"), "{refused}");
}

#[test]
fn an_endless_piece_of_xml_is_refused() {
    for (begin, rest) in [
        ("", &b" "[..]),
        ("<uddf version=\"3\">", b"x"),
        ("<uddf version=\"3\">", b"\n"),
        ("<uddf version=\"3\"><!-- ", b"<> "),
        ("<uddf version=\"3\"><![CDATA[", b"<>]]"),
        ("<uddf version=\"3\"><?x ", b"<>"),
        ("<!DOCTYPE uddf [", b"<!ENTITY a \"b\">"),
        ("<uddf version=\"3\" ", b"a"),
        ("<uddf version=\"3\" a=\"", b">"),
        ("<uddf version=\"3\"></", b"u"),
        ("<uddf version=\"3\">&", b"u"),
    ] {
        let refused = refused_early(uddf, begin, again(rest));
        assert!(refused.message.contains("64 KiB"), "{begin}: {refused}");
    }
}

/// Small pieces, but without an end to what they come to.
#[test]
fn what_grows_piece_by_piece_is_refused() {
    const MIX: &str = "<uddf version=\"3\"><diver><owner><personal><firstname>";
    for (begin, rest, words) in [
        ("", &b"<a>"[..], "not `uddf`"),
        ("<uddf version=\"3\">", b"<a>", "64 deep"),
        ("<uddf version=\"3\">", b"&lol;", "entity `lol`"),
        (MIX, b"x<!-- -->", "1024 bytes"),
        (MIX, b"&amp;", "1024 bytes"),
        ("<uddf version=\"3\"><b ", b"a='1' ", "64 KiB"),
    ] {
        let refused = refused_early(uddf, begin, again(rest));
        assert!(refused.message.contains(words), "{begin}: {refused}");
    }
}

#[test]
fn many_attributes_are_refused() {
    let mut text = "<uddf version=\"3\"".to_owned();
    for number in 0..70 {
        write!(text, " a{number}=\"\"").unwrap();
    }
    let refused = read_uddf(format!("{text}/>").as_bytes()).unwrap_err();
    assert!(refused.message.contains("64 attributes"), "{refused}");
}

#[test]
fn a_million_readings_are_read_and_one_more_is_refused() {
    let mut text = "time (s),depth (m)\n".to_owned();
    for number in 0..MOST_READINGS {
        writeln!(text, "{}.{:02},9", number / 100, number % 100).unwrap();
    }
    assert_eq!(
        read_csv(text.as_bytes()).unwrap()[0].readings.len(),
        MOST_READINGS
    );
    writeln!(text, "10000,9").unwrap();
    let refused = read_csv(text.as_bytes()).unwrap_err();
    assert_eq!(refused.line, Some(MOST_READINGS as u64 + 2));
    assert!(refused.message.contains("1000000 readings"), "{refused}");
}

/// The bound is on the file, however many dives it is cut into: here one of each line.
#[test]
fn a_million_waypoints_and_one_are_refused() {
    const A_DIVE: usize = 50_000;
    let mut dive = "<dive><samples>".to_owned();
    for number in 0..A_DIVE {
        write!(
            dive,
            "<waypoint><divetime>{number}</divetime><depth>9</depth></waypoint>"
        )
        .unwrap();
    }
    dive.push_str("</samples></dive>\n");
    let dives = dive.repeat(MOST_READINGS / A_DIVE + 1);
    let begin = "<uddf version=\"3\"><profiledata><repetitiongroup>";
    let refused = read_uddf(format!("{begin}{dives}").as_bytes()).unwrap_err();
    assert_eq!(refused.line, Some((MOST_READINGS / A_DIVE + 1) as u64));
    assert!(refused.message.contains("1000000 readings"), "{refused}");
}
