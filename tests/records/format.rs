//! What a file is, by what is in it.

use hangbar::record::{RecordFormat, format_of};

use crate::uddf::TWO_DIVES;

#[test]
fn a_form_is_known_by_what_is_in_a_file() {
    for (head, format) in [
        ("time (s),depth (m)\n", RecordFormat::Csv),
        (
            "\u{feff}\n# diver: Mara\r\n  # more\r\nDepth_m;Time [min]\r\n",
            RecordFormat::Csv,
        ),
        ("\"time (s)\"\t\"depth (ft)\"", RecordFormat::Csv),
        // Its reader says what is wrong with it.
        ("time,depth,temperature\n", RecordFormat::Csv),
        ("[[diver]]\nname = \"Mara\"\n", RecordFormat::Pencil),
        ("# slate, time,depth\n\n[[diver]]\n", RecordFormat::Pencil),
        ("\u{feff}title = \"Kittiwake Wall\"\n", RecordFormat::Pencil),
        ("units=\"metric\"", RecordFormat::Pencil),
        ("<uddf version=\"3.2.0\">", RecordFormat::Uddf),
        ("\u{feff}\r\n <?xml version=\"1.0\"?>", RecordFormat::Uddf),
        (TWO_DIVES, RecordFormat::Uddf),
    ] {
        assert_eq!(format_of(head.as_bytes()), Ok(format), "{head}");
    }
}

#[test]
fn a_head_may_end_within_a_character() {
    let whole = "# Õhtu\ntime (s),depth (m)\n0,0\n# Õ".as_bytes();
    assert_eq!(format_of(&whole[..whole.len() - 1]), Ok(RecordFormat::Csv));
}

#[test]
fn what_is_no_record_is_refused_in_plain_words() {
    for (head, line, words) in [
        (&b""[..], None, "empty"),
        (b"\xef\xbb\xbf \r\n\n", None, "blank"),
        (b"# nothing\n# else\n", None, "comments alone"),
        (b"PK\x03\x04\x14\x00", None, "zipped"),
        (b"\x1f\x8b\x08\x00", None, "zipped"),
        (b"\xff\xfet\x00i\x00", None, "UTF-16"),
        (b"t\x00i\x00m\x00e\x00", None, "UTF-16"),
        (b"\x7fELF\x02\x01\x01\x00", None, "zero bytes"),
        (b"time \xb5s,depth (m)\n", Some(1), "UTF-8"),
        (b"# x\n\xb5s\n", Some(2), "UTF-8"),
        (
            b"time (s),depth (m)\r0,0\r",
            Some(1),
            "carriage returns alone",
        ),
        (
            b"# x\n\nminutes,metres\n",
            Some(3),
            "does not name time and depth",
        ),
        (b"depth (m),pressure (bar)\n", Some(1), "does not name time"),
        (b"Dear diary\x1b[2J\n", Some(1), "`Dear diary\\u{1b}[2J`"),
        (b"a b = 3", Some(1), "no record that is known"),
    ] {
        let refused = format_of(head).unwrap_err();
        assert_eq!(refused.line, line, "{refused}");
        assert!(refused.message.contains(words), "{refused}");
        assert!(!refused.accepted.is_empty());
    }
}
