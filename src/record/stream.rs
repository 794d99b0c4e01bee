//! Reading that stays small whatever comes.

use std::io::{self, BufRead, BufReader, Read};

use super::log::RecordError;
use super::words::told;

/// Longest line of a table, in bytes.
const MOST_LINE: usize = 4 << 10;
/// Longest tag, comment or text of XML, in bytes, give or take one buffer.
const MOST_PIECE: usize = 64 << 10;
/// Longest file, in bytes.
const MOST_WHOLE: u64 = 256 << 20;

/// Bytes of a record, no more of them than can be one.
///
/// Refuses a zero byte, a piece that does not end, and a file that does not end; all else passes.
/// Whoever reads says where a piece begins. It counts the lines of what was taken out.
pub(super) struct Bounded<R> {
    input: BufReader<R>,
    line: u64,
    piece: usize,
    most_piece: usize,
    too_long: &'static str,
    whole: u64,
    most_whole: u64,
}

impl<R: Read> Bounded<R> {
    /// A table: pieces are lines.
    pub(super) fn lines(input: R) -> Self {
        Self::new(input, MOST_LINE, "a line is longer than 4 KiB", MOST_WHOLE)
    }

    /// XML: pieces are tags, comments and texts.
    pub(super) fn pieces(input: R) -> Self {
        let too_long = "one tag, comment or text is longer than 64 KiB";
        Self::new(input, MOST_PIECE, too_long, MOST_WHOLE)
    }

    fn new(input: R, most_piece: usize, too_long: &'static str, most_whole: u64) -> Self {
        Self {
            input: BufReader::new(input),
            line: 1,
            piece: 0,
            most_piece,
            too_long,
            whole: 0,
            most_whole,
        }
    }

    /// Line of the next byte, from 1.
    pub(super) const fn line(&self) -> u64 {
        self.line
    }

    /// What is read from here on is another piece.
    pub(super) const fn begin_piece(&mut self) {
        self.piece = 0;
    }

    /// The next line with its end, and its number; `None` after the last one.
    pub(super) fn next_line(&mut self, line: &mut Vec<u8>) -> Result<Option<u64>, RecordError> {
        let number = self.line;
        line.clear();
        self.begin_piece();
        let count = self.read_until(b'\n', line).map_err(|e| refusal(&e))?;
        if count > self.most_piece {
            return Err(refusal(&refuse(number, self.too_long)));
        }
        Ok((count > 0).then_some(number))
    }

    /// Fetches more and looks at it.
    fn fetch(&mut self) -> io::Result<()> {
        let fresh = self.input.fill_buf()?;
        self.whole += fresh.len() as u64;
        if fresh.contains(&0) {
            let at = fresh.iter().position(|byte| *byte == 0).unwrap_or_default();
            let line = self.line + newlines(&fresh[..at]);
            return Err(refuse(
                line,
                "a zero byte: a binary file, or text in UTF-16",
            ));
        }
        if self.whole > self.most_whole {
            return Err(refuse(self.line, "the file is longer than 256 MiB"));
        }
        Ok(())
    }
}

/// Travels through the readers as an error of theirs.
fn refuse(line: u64, what: &str) -> io::Error {
    let accepted = "text in UTF-8: lines up to 4 KiB in a table, up to 64 KiB from tag to tag in \
                    UDDF, 256 MiB in all";
    io::Error::other(RecordError::new(Some(line), what, accepted))
}

impl<R: Read> BufRead for Bounded<R> {
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        if self.piece > self.most_piece {
            return Err(refuse(self.line, self.too_long));
        }
        if self.input.buffer().is_empty() {
            self.fetch()?;
        }
        Ok(self.input.buffer())
    }

    fn consume(&mut self, count: usize) {
        let taken = self.input.buffer().get(..count).unwrap_or_default();
        self.line += newlines(taken);
        self.piece += count;
        self.input.consume(count);
    }
}

impl<R: Read> Read for Bounded<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let count = self.fill_buf()?.read(into)?;
        self.consume(count);
        Ok(count)
    }
}

fn newlines(bytes: &[u8]) -> u64 {
    bytes.iter().map(|byte| u64::from(*byte == b'\n')).sum()
}

/// Why reading ended: what was refused on the way, or what the system says.
pub(super) fn refusal(error: &io::Error) -> RecordError {
    let refused = error.get_ref().and_then(|inner| inner.downcast_ref());
    refused.cloned().unwrap_or_else(|| {
        let message = format!("reading failed: {}", told(&error.to_string()));
        RecordError::new(None, message, "a file that can be read to its end")
    })
}

#[cfg(test)]
mod tests {
    use super::Bounded;
    use std::io::{BufRead, Read};

    #[test]
    fn a_file_that_does_not_end_is_refused_at_its_bound() {
        let endless = std::io::repeat(b'\n');
        let mut bounded = Bounded::new(endless, 10, "long", 100_000);
        let mut line = Vec::new();
        let mut count = 0_u64;
        let refused = loop {
            match bounded.next_line(&mut line) {
                Ok(number) => {
                    count += 1;
                    assert_eq!(number, Some(count));
                }
                Err(error) => break error,
            }
        };
        assert!((80_000..=100_000).contains(&count), "{count}");
        assert_eq!(refused.line, Some(count + 1));
        assert!(refused.message.contains("256 MiB"));
    }

    #[test]
    fn a_line_at_its_bound_is_read_and_one_byte_more_is_refused() {
        for (length, is_read) in [(9, true), (10, true), (11, false)] {
            let text = format!("a\n{}\nb", "x".repeat(length - 1));
            let mut bounded = Bounded::new(text.as_bytes(), 10, "long", 1000);
            let mut line = Vec::new();
            assert_eq!(bounded.next_line(&mut line), Ok(Some(1)));
            let second = bounded.next_line(&mut line);
            assert_eq!(second.is_ok(), is_read, "{second:?}");
            if let Err(refused) = second {
                assert_eq!((refused.line, refused.message.as_str()), (Some(2), "long"));
            }
        }
    }

    #[test]
    fn a_zero_byte_is_refused_with_its_line() {
        let mut bounded = Bounded::lines(&b"a\nb\nc\0d\n"[..]);
        let refused = super::refusal(&bounded.fill_buf().unwrap_err());
        assert_eq!(refused.line, Some(3));
    }

    #[test]
    fn what_the_system_says_is_passed_on() {
        struct Broken;
        impl Read for Broken {
            fn read(&mut self, _: &mut [u8]) -> std::io::Result<usize> {
                Err(std::io::Error::other("the stick was\u{1b} pulled out"))
            }
        }
        let refused = Bounded::lines(Broken)
            .next_line(&mut Vec::new())
            .unwrap_err();
        assert_eq!(refused.line, None);
        assert_eq!(
            refused.message,
            "reading failed: the stick was\\u{1b} pulled out"
        );
    }
}
