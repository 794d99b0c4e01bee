//! How high text in columns is.

/// Columns are tried higher by so many points.
const STEP: f64 = 1.0;

/// The height of so many columns beside each other that hold pieces in their order, none of them
/// parted: the least one, or at most a point more.
pub(in crate::render) fn columns(pieces: &[f64], count: usize) -> f64 {
    let whole: f64 = pieces.iter().sum();
    let highest = pieces.iter().copied().fold(0.0, f64::max);
    #[expect(clippy::cast_precision_loss, reason = "two or three")]
    let mut high = f64::max(whole / count as f64, highest);
    while high < whole && needed(pieces, high) > count {
        high += STEP;
    }
    high.min(whole)
}

/// How many columns of a height pieces take.
fn needed(pieces: &[f64], high: f64) -> usize {
    let (mut count, mut used) = (1, 0.0);
    for piece in pieces {
        if used > 0.0 && used + piece > high + 1e-9 {
            count += 1;
            used = 0.0;
        }
        used += piece;
    }
    count
}

#[cfg(test)]
mod tests {
    use super::columns;

    #[test]
    fn the_highest_column_counts() {
        for (pieces, count, want) in [
            (&[][..], 2, 0.0),
            (&[4.0], 2, 4.0),
            (&[3.0, 2.0, 2.0], 2, 4.5),
            (&[1.0, 1.0, 9.0], 2, 9.0),
            (&[1.0, 1.0, 9.0], 3, 9.0),
            (&[2.0, 2.0, 2.0, 2.0, 2.0], 3, 13.0 / 3.0),
        ] {
            let got = columns(pieces, count);
            assert!((got - want).abs() < 1e-9, "{pieces:?}: {got}, not {want}");
        }
    }
}
