//! Evaluates the written formula of a recorded step from its printed terms: what the calculation sheet shows is what
//! the program computed.

use tiltwright::catalogue::{Record, Step};

/// Runs a computation with a recording trace, checks every recorded step, and hands the result back.
pub(crate) fn recorded<R>(compute: impl FnOnce(&mut Record) -> R) -> R {
    let mut record = Record::default();
    let result = compute(&mut record);
    assert!(!record.steps.is_empty(), "nothing was recorded");
    for step in &record.steps {
        assert_step(step);
    }
    result
}

/// The formula gives the value from its terms, to rounding of doubles.
fn assert_step(step: &Step) {
    const ROUNDING: f64 = 1e-9;
    let again = evaluate(step).unwrap_or_else(|why| panic!("{}: {} in {}", step.what, why, step.formula));
    let same = (again - step.value).abs() <= ROUNDING * step.value.abs().max(1e-12) || again == step.value;
    assert!(same, "{}: {} = {} gives {again}, recorded {}", step.what, step.symbol, step.formula, step.value);
    assert!(step.terms.iter().all(|t| t.symbol.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')));
}

/// Value of the right-hand side.
pub(crate) fn evaluate(step: &Step) -> Result<f64, String> {
    let terms: Vec<(&str, f64)> = step.terms.iter().map(|t| (t.symbol, t.value)).collect();
    let mut reader = Reader { text: step.formula.as_bytes(), at: 0, terms: &terms };
    let value = reader.sum()?;
    reader.blanks();
    if reader.at < reader.text.len() { Err(format!("left over at {}", reader.at)) } else { Ok(value) }
}

struct Reader<'a> {
    text: &'a [u8],
    at: usize,
    terms: &'a [(&'a str, f64)],
}

impl Reader<'_> {
    fn blanks(&mut self) {
        while self.text.get(self.at) == Some(&b' ') {
            self.at += 1;
        }
    }

    fn take(&mut self, sign: u8) -> bool {
        self.blanks();
        let found = self.text.get(self.at) == Some(&sign);
        self.at += usize::from(found);
        found
    }

    fn sum(&mut self) -> Result<f64, String> {
        let mut value = self.product()?;
        loop {
            match () {
                () if self.take(b'+') => value += self.product()?,
                () if self.take(b'-') => value -= self.product()?,
                () => return Ok(value),
            }
        }
    }

    fn product(&mut self) -> Result<f64, String> {
        let mut value = self.signed()?;
        loop {
            match () {
                () if self.take(b'*') => value *= self.signed()?,
                () if self.take(b'/') => value /= self.signed()?,
                () => return Ok(value),
            }
        }
    }

    fn signed(&mut self) -> Result<f64, String> {
        if self.take(b'-') { Ok(-self.signed()?) } else { self.power() }
    }

    fn power(&mut self) -> Result<f64, String> {
        let base = self.atom()?;
        if self.take(b'^') { Ok(base.powf(self.signed()?)) } else { Ok(base) }
    }

    fn atom(&mut self) -> Result<f64, String> {
        if self.take(b'(') {
            let value = self.sum()?;
            return if self.take(b')') { Ok(value) } else { Err("bracket not closed".to_string()) };
        }
        let start = self.at;
        let while_in = |reader: &mut Self, wanted: fn(u8) -> bool| {
            while reader.text.get(reader.at).is_some_and(|c| wanted(*c)) {
                reader.at += 1;
            }
        };
        if self.text.get(start).is_some_and(u8::is_ascii_digit) {
            while_in(self, |c| c.is_ascii_digit() || c == b'.');
            let word = std::str::from_utf8(&self.text[start..self.at]).expect("digits");
            return word.parse().map_err(|_| format!("no number: {word}"));
        }
        while_in(self, |c| c.is_ascii_alphanumeric() || c == b'_');
        let word = String::from_utf8(self.text[start..self.at].to_vec()).expect("letters");
        if self.take(b'(') {
            let mut arguments = vec![self.sum()?];
            while self.take(b',') {
                arguments.push(self.sum()?);
            }
            return if self.take(b')') { function(&word, &arguments) } else { Err("bracket not closed".to_string()) };
        }
        let known = self.terms.iter().find(|(symbol, _)| *symbol == word);
        known.map(|(_, value)| *value).ok_or_else(|| format!("unknown symbol {word:?} at {start}"))
    }
}

fn function(name: &str, arguments: &[f64]) -> Result<f64, String> {
    let fold =
        |pick: fn(f64, f64) -> f64| arguments.iter().copied().reduce(pick).ok_or_else(|| "no argument".to_string());
    let one = arguments[0];
    match (name, arguments.len()) {
        ("min", _) => fold(f64::min),
        ("max", _) => fold(f64::max),
        ("sqrt", 1) => Ok(one.sqrt()),
        ("exp", 1) => Ok(one.exp()),
        ("ln", 1) => Ok(one.ln()),
        ("sin", 1) => Ok(one.sin()),
        ("cos", 1) => Ok(one.cos()),
        ("tan", 1) => Ok(one.tan()),
        ("asin", 1) => Ok(one.asin()),
        ("acos", 1) => Ok(one.acos()),
        ("atan", 1) => Ok(one.atan()),
        ("abs", 1) => Ok(one.abs()),
        ("round", 1) => Ok(one.round()),
        _ => Err(format!("no function {name} of {} arguments", arguments.len())),
    }
}

#[test]
fn formulas_follow_the_usual_order_of_signs() {
    use tiltwright::catalogue::{Certainty, Source, term};
    let given = |formula| Step {
        what: "",
        symbol: "x",
        formula,
        terms: vec![term("a", 3.0, ""), term("b_1", 4.0, "")],
        value: 0.0,
        unit: "",
        source: Source::new("", "", Certainty::Derived),
    };
    for (formula, value) in [
        ("a + b_1*2^2", 19.0),
        ("-a^2", -9.0),
        ("sqrt(a^2 + b_1^2)", 5.0),
        ("min(a, b_1, 2)/max(1, 4)", 0.5),
        ("2 - 3 - 4", -5.0),
        ("12/a/b_1", 1.0),
        ("50*round(26/50)", 50.0),
        ("2^-1", 0.5),
    ] {
        assert_eq!(evaluate(&given(formula)), Ok(value), "{formula}");
    }
    for broken in ["", "a +", "(a", "c", "sqrt(a", "a b_1", "foo(a)"] {
        assert!(evaluate(&given(broken)).is_err(), "{broken}");
    }
}
