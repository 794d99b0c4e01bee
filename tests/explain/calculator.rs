//! A calculator that reads a line in numbers.

/// Reads `+ - * / ^ ( ) ln` and plain decimal numbers; anything else is an error.
pub(crate) struct Calculator<'a> {
    rest: &'a [u8],
}

impl Calculator<'_> {
    pub(crate) fn value_of(text: &str) -> Result<f64, String> {
        let squeezed: String = text.split_whitespace().collect();
        let mut calculator = Calculator {
            rest: squeezed.as_bytes(),
        };
        let value = calculator.sum()?;
        match calculator.rest {
            [] => Ok(value),
            rest => Err(format!("`{}` is left over", String::from_utf8_lossy(rest))),
        }
    }

    fn take(&mut self, sign: u8) -> bool {
        let found = self.rest.first() == Some(&sign);
        if found {
            self.rest = &self.rest[1..];
        }
        found
    }

    fn sum(&mut self) -> Result<f64, String> {
        let mut value = self.product()?;
        loop {
            if self.take(b'+') {
                value += self.product()?;
            } else if self.take(b'-') {
                value -= self.product()?;
            } else {
                return Ok(value);
            }
        }
    }

    fn product(&mut self) -> Result<f64, String> {
        let mut value = self.signed()?;
        loop {
            if self.take(b'*') {
                value *= self.signed()?;
            } else if self.take(b'/') {
                value /= self.signed()?;
            } else {
                return Ok(value);
            }
        }
    }

    fn signed(&mut self) -> Result<f64, String> {
        if self.take(b'-') {
            Ok(-self.signed()?)
        } else {
            self.power()
        }
    }

    fn power(&mut self) -> Result<f64, String> {
        let base = self.plain()?;
        if self.take(b'^') {
            Ok(base.powf(self.signed()?))
        } else {
            Ok(base)
        }
    }

    fn plain(&mut self) -> Result<f64, String> {
        if self.rest.starts_with(b"ln(") {
            self.rest = &self.rest[2..];
            return Ok(self.plain()?.ln());
        }
        if self.take(b'(') {
            let value = self.sum()?;
            return if self.take(b')') {
                Ok(value)
            } else {
                Err("a parenthesis is not closed".to_owned())
            };
        }
        let digits = self
            .rest
            .iter()
            .take_while(|c| c.is_ascii_digit() || **c == b'.')
            .count();
        let (number, rest) = self.rest.split_at(digits);
        self.rest = rest;
        let number = String::from_utf8_lossy(number);
        number.parse().map_err(|_| format!("no number: `{number}`"))
    }
}

#[test]
fn the_calculator_of_this_test_knows_the_order_of_things() {
    for (text, want) in [
        ("1 + 2 * 3", 7.0),
        ("(1 + 2) * 3", 9.0),
        ("8 - 2 - 1", 5.0),
        ("8 / 2 / 2", 2.0),
        ("1 - 2^(-4 / 2)", 0.75),
        ("-2 * 3 + (-0.5) * 4", -8.0),
        ("2 * 3^2", 18.0),
        ("ln(1) + 2", 2.0),
        ("3 * ln((8 - 2) / 6) + 1", 1.0),
    ] {
        assert!(
            (Calculator::value_of(text).unwrap() - want).abs() < 1e-15,
            "{text}"
        );
    }
    for text in [
        "", "1 +", "(1", "1)", "1 2 x", "P * 2", "1e5", "2,5", "exp(1)",
    ] {
        assert!(Calculator::value_of(text).is_err(), "{text}");
    }
}
