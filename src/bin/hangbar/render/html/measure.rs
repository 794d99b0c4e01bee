//! How wide text is on paper, and how many lines it takes: nobody asks the browser.

/// Widths of the letters from the blank to `~` in thousandths of their height, as the usual faces
/// without serifs have them (Helvetica's metrics, which Arial and Liberation Sans share).
const ADVANCES: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
    611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500,
    222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];
/// A letter of another script.
const OTHER: u16 = 700;
/// One that takes two columns of a terminal.
const WIDE: u16 = 1300;
/// What another face without serifs may need more.
const OTHER_FACES: f64 = 1.03;
/// What bold letters need more.
pub(in crate::render) const BOLD: f64 = 1.1;

/// How heavy letters are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::render) enum Face {
    Regular,
    Bold,
}

fn advance(c: char) -> u16 {
    let index = u32::from(c).checked_sub(u32::from(' '));
    let known = index.and_then(|index| ADVANCES.get(usize::try_from(index).ok()?));
    known.copied().unwrap_or_else(|| {
        match textwrap::core::display_width(c.encode_utf8(&mut [0; 4])) {
            _ if c == '\u{a0}' => ADVANCES[0],
            0 => 0,
            1 => OTHER,
            _ => WIDE,
        }
    })
}

/// The width of a text in heights of its letters.
pub(in crate::render) fn width(text: &str, face: Face) -> f64 {
    let thousandths: f64 = text.chars().map(advance).map(f64::from).sum();
    let regular = thousandths / 1000.0 * OTHER_FACES;
    match face {
        Face::Regular => regular,
        Face::Bold => regular * BOLD,
    }
}

/// The lines that a text takes in a room of so many heights of its letters; a word that is wider than
/// the room is broken.
pub(in crate::render) fn lines(text: &str, face: Face, room: f64) -> f64 {
    let blank = width(" ", face);
    let (mut lines, mut used) = (1.0, 0.0);
    for word in text.split([' ', '\n']) {
        let wide = width(word, face);
        if used > 0.0 && used + blank + wide <= room {
            used += blank + wide;
            continue;
        }
        if used > 0.0 {
            lines += 1.0;
        }
        let over = (wide / room).ceil().max(1.0) - 1.0;
        lines += over;
        used = wide - over * room;
    }
    lines
}

/// The widest word of a text, in heights of its letters.
pub(in crate::render) fn widest_word(text: &str, face: Face) -> f64 {
    let words = text.split([' ', '\n']);
    words.map(|word| width(word, face)).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::{Face, lines, width};

    #[test]
    fn letters_are_as_wide_as_the_table_has_them() {
        assert!((width("Wi.~", Face::Regular) - 2.028 * 1.03).abs() < 1e-9);
        assert!(width("\u{6d77}", Face::Regular) > width("W", Face::Regular));
        assert!(width("e\u{301}", Face::Regular) < width("ee", Face::Regular));
    }

    #[test]
    fn words_fill_lines_and_long_ones_are_broken() {
        let room = width("two words", Face::Regular) + 0.01;
        let close = |got: f64, want: f64| assert!((got - want).abs() < 1e-9, "{got} {want}");
        close(lines("two words", Face::Regular, room), 1.0);
        close(lines("two words more", Face::Regular, room), 2.0);
        close(lines("", Face::Regular, room), 1.0);
        close(
            lines(
                &"w".repeat(20),
                Face::Regular,
                width("wwwww", Face::Regular),
            ),
            4.0,
        );
    }
}
