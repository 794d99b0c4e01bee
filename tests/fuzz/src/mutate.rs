//! Mutations that keep the form of a text: lines put in, out and elsewhere, whole tables too, other
//! numbers, other units. Every second time the bytes are the fuzzer's own.

use std::ops::Range;

use libfuzzer_sys::fuzzer_mutate;

use crate::words::{HARM, NUMBERS, PLAN, RECORD, UNITS};

/// Numbers from a seed; the fuzzer's is all there is, so that a run can be had again.
pub struct Dice(u64);

impl Dice {
    /// Of a seed.
    #[must_use]
    pub fn new(seed: u32) -> Self {
        Self(u64::from(seed) | 1 << 40)
    }

    /// From 0 to below a number that is not 0 (xorshift64*).
    pub fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let bits = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33;
        usize::try_from(bits).expect("31 bits") % end.max(1)
    }

    fn pick<'a>(&mut self, of: &[&'a str]) -> &'a str {
        of[self.below(of.len())]
    }
}

/// Which lines a text is made of.
#[derive(Clone, Copy)]
pub enum Lines {
    /// Those of a plan.
    Plan,
    /// Those of a record.
    Record,
}

/// Mutates what the fuzzer hands over, in place; gives its new length.
pub fn mutated(lines: Lines, data: &mut [u8], size: usize, max_size: usize, seed: u32) -> usize {
    let mut dice = Dice::new(seed);
    let text = str::from_utf8(&data[..size])
        .ok()
        .filter(|text| !text.is_empty());
    let Some(text) = text.filter(|_| dice.below(4) > 0) else {
        return fuzzer_mutate(data, size, max_size);
    };
    let mut text = text.to_owned();
    for _ in 0..=dice.below(4) {
        once(lines, &mut text, &mut dice);
    }
    put(&text, data, max_size)
}

/// A text in the place of the fuzzer's, as much of it as there is room for.
pub fn put(text: &str, data: &mut [u8], max_size: usize) -> usize {
    let most = max_size.min(data.len()).min(text.len());
    let end = (0..=most)
        .rev()
        .find(|end| text.is_char_boundary(*end))
        .unwrap_or(0);
    data[..end].copy_from_slice(&text.as_bytes()[..end]);
    end
}

/// One mutation of a text.
pub fn once(lines: Lines, text: &mut String, dice: &mut Dice) {
    let known = match lines {
        Lines::Plan => PLAN,
        Lines::Record => RECORD,
    };
    match dice.below(16) {
        0..=4 => other_number(text, dice),
        5 => other_unit(text, dice),
        6 | 7 => {
            let at = line_at(text, dice).start;
            text.insert_str(at, &format!("{}\n", dice.pick(known)));
        }
        8 => {
            let line = line_at(text, dice);
            text.replace_range(line, &format!("{}\n", dice.pick(known)));
        }
        9 => {
            let line = line_at(text, dice);
            text.replace_range(line, "");
        }
        10 => {
            let line = text[line_at(text, dice)].to_owned();
            let at = line_at(text, dice).start;
            text.insert_str(at, &line);
        }
        11 => {
            let table = table_at(text, dice);
            text.replace_range(table, "");
        }
        12 => {
            let table = text[table_at(text, dice)].to_owned();
            if !text.ends_with('\n') {
                text.push('\n');
            }
            text.push_str(&table);
        }
        13 => {
            // A key that its table does not have yet: the line of another one with the same key.
            let line = line_at(text, dice);
            let key = text[line.clone()]
                .split('=')
                .next()
                .unwrap_or_default()
                .trim()
                .to_owned();
            let alike: Vec<&str> = known
                .iter()
                .copied()
                .filter(|one| !key.is_empty() && one.starts_with(&key))
                .collect();
            if !alike.is_empty() {
                text.replace_range(line, &format!("{}\n", dice.pick(&alike)));
            }
        }
        14 => {
            let number = other_of(text, dice, "0123456789", |_| true);
            if let Some(range) = number {
                text.insert_str(
                    range.end,
                    dice.pick(&["0", "5", ".5", "9", "e1", ".000001"]),
                );
            }
        }
        _ => {
            let at = boundary(text, dice);
            text.insert_str(at, dice.pick(HARM));
        }
    }
}

fn other_number(text: &mut String, dice: &mut Dice) {
    let Some(range) = other_of(text, dice, "0123456789.", |word| {
        word.starts_with(|c: char| c.is_ascii_digit())
    }) else {
        return;
    };
    let old: f64 = text[range.clone()].parse().unwrap_or(1.0);
    let new = match dice.below(8) {
        0..=2 => dice.pick(NUMBERS).to_owned(),
        3 => format!("{}", old * 2.0),
        4 => format!("{}", old / 2.0),
        5 => format!("{}", old + 1.0),
        6 => format!("{}", (old - 1.0).max(0.0)),
        _ => {
            let tenths = u32::try_from(dice.below(4000)).unwrap_or(0);
            format!("{}", f64::from(tenths) / 10.0)
        }
    };
    text.replace_range(range, &new);
}

fn other_unit(text: &mut String, dice: &mut Dice) {
    let letters = "abcdefghijklmnopqrstuvwxyzLCFP/°3";
    if let Some(range) = other_of(text, dice, letters, |word| UNITS.contains(&word)) {
        text.replace_range(range, dice.pick(UNITS));
    }
}

/// A run of such characters somewhere in the text that is one that is wanted.
fn other_of(
    text: &str,
    dice: &mut Dice,
    of: &str,
    wanted: impl Fn(&str) -> bool,
) -> Option<Range<usize>> {
    let mut runs = Vec::new();
    let mut start = None;
    for (at, c) in text.char_indices().chain([(text.len(), '\n')]) {
        match (of.contains(c), start) {
            (true, None) => start = Some(at),
            (false, Some(from)) => {
                if wanted(&text[from..at]) {
                    runs.push(from..at);
                }
                start = None;
            }
            _ => {}
        }
    }
    let count = runs.len();
    (count > 0).then(|| runs.swap_remove(dice.below(count)))
}

/// A line with its end.
fn line_at(text: &str, dice: &mut Dice) -> Range<usize> {
    let at = boundary(text, dice);
    let start = text[..at].rfind('\n').map_or(0, |newline| newline + 1);
    let end = text[at..]
        .find('\n')
        .map_or(text.len(), |newline| at + newline + 1);
    start..end
}

/// A line that begins with `[` and all up to the next such one.
fn table_at(text: &str, dice: &mut Dice) -> Range<usize> {
    let at = line_at(text, dice).end;
    let start = text[..at].rfind("\n[").map_or(0, |newline| newline + 1);
    let next = text.get(start + 1..).and_then(|rest| rest.find("\n["));
    let end = next.map_or(text.len(), |newline| start + 1 + newline + 1);
    start..end.min(text.len())
}

fn boundary(text: &str, dice: &mut Dice) -> usize {
    let at = dice.below(text.len() + 1);
    (0..=at)
        .rev()
        .find(|at| text.is_char_boundary(*at))
        .unwrap_or(0)
}
