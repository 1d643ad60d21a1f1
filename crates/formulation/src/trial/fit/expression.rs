//! A model written as a formula in `x` (or `x1`, `x2` …) and parameters `b1`, `b2` …, with
//! exact derivatives, so that a maker can fit a curve that is not in the list.
//!
//! Juxtaposition multiplies: `b1 (1 - exp(-b2 x))`. Known are + − * / ^, exp, ln, sqrt, sin,
//! cos, tan, atan and pi. `ln y = …` fits the logarithm of the values.

use std::collections::BTreeSet;

use nalgebra::DMatrix;

use super::nonlinear::Curve;

/// Why a formula cannot be read.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
#[error("the formula cannot be read at character {at}: {what}")]
pub struct ExpressionError {
    /// Place in the text, from 1.
    pub at: usize,
    /// What is wrong there.
    pub what: String,
}

#[derive(Clone, Copy, PartialEq, Debug)]
enum Function {
    Exp,
    Ln,
    Sqrt,
    Sin,
    Cos,
    Tan,
    Atan,
}

impl Function {
    fn named(name: &str) -> Option<Self> {
        Some(match name {
            "exp" => Self::Exp,
            "ln" | "log" => Self::Ln,
            "sqrt" => Self::Sqrt,
            "sin" => Self::Sin,
            "cos" => Self::Cos,
            "tan" => Self::Tan,
            "atan" | "arctan" => Self::Atan,
            _ => return None,
        })
    }
    /// Value and derivative.
    fn at(self, v: f64) -> (f64, f64) {
        match self {
            Self::Exp => (v.exp(), v.exp()),
            Self::Ln => (v.ln(), 1.0 / v),
            Self::Sqrt => (v.sqrt(), 0.5 / v.sqrt()),
            Self::Sin => (v.sin(), v.cos()),
            Self::Cos => (v.cos(), -v.sin()),
            Self::Tan => (v.tan(), 1.0 + v.tan().powi(2)),
            Self::Atan => (v.atan(), 1.0 / (1.0 + v * v)),
        }
    }
}

/// One step of the formula in postfix order.
#[derive(Clone, Copy, PartialEq, Debug)]
enum Step {
    Number(f64),
    Input(usize),
    Parameter(usize),
    Add,
    Subtract,
    Multiply,
    Divide,
    Power,
    Negate,
    Apply(Function),
}

/// A model typed in `x` and `b1`, `b2` …, ready to be evaluated with its derivatives.
#[derive(Clone, PartialEq, Debug)]
pub struct Expression {
    steps: Vec<Step>,
    /// Number of parameters.
    pub parameters: usize,
    /// Number of inputs.
    pub inputs: usize,
    /// Whether the formula gives the logarithm of the value.
    pub of_logarithm: bool,
    first_parameter: usize,
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    steps: Vec<Step>,
    parameters: BTreeSet<usize>,
    inputs: usize,
    depth: usize,
}

/// More brackets inside each other than anybody writes.
const DEEPEST: usize = 60;

impl Expression {
    /// Reads `text`; a left side `y =` or `ln y =` may stand in front.
    pub fn read(text: &str) -> Result<Self, ExpressionError> {
        let (left, right, offset) = match text.find('=') {
            Some(i) => (text.get(..i).unwrap_or(""), text.get(i + 1..), i + 1),
            None => ("y", Some(text), 0),
        };
        let left: String = left.split_whitespace().collect::<String>().to_lowercase();
        let of_logarithm = match left.as_str() {
            "y" => false,
            "lny" | "ln(y)" => true,
            _ => {
                return Err(ExpressionError {
                    at: 1,
                    what: "the left side must be y or ln y".to_owned(),
                });
            }
        };
        let mut reader = Reader {
            text: right.unwrap_or(""),
            at: 0,
            steps: Vec::new(),
            parameters: BTreeSet::new(),
            inputs: 0,
            depth: 0,
        };
        let read = reader.sum().and_then(|()| {
            reader.skip();
            match reader.peek() {
                Some(c) => Err(reader.error(format!("“{c}” is not expected here"))),
                None => Ok(()),
            }
        });
        read.map_err(|mut e| {
            e.at += offset;
            e
        })?;
        let (Some(first), Some(last)) = (
            reader.parameters.first().copied(),
            reader.parameters.last().copied(),
        ) else {
            return Err(ExpressionError {
                at: offset + 1,
                what: "there is no parameter b1".to_owned(),
            });
        };
        if first > 1 || last + 1 - first != reader.parameters.len() {
            return Err(ExpressionError {
                at: offset + 1,
                what: "the parameters must be b1, b2 … without a gap".to_owned(),
            });
        }
        Ok(Self {
            steps: reader.steps,
            parameters: last + 1 - first,
            inputs: reader.inputs,
            of_logarithm,
            first_parameter: first,
        })
    }

    /// Value and, if `by` is a parameter, the derivative by it.
    fn value(&self, x: &[f64], b: &[f64], by: Option<usize>) -> Option<(f64, f64)> {
        let mut stack: Vec<(f64, f64)> = Vec::with_capacity(8);
        for step in &self.steps {
            let next = match *step {
                Step::Number(v) => (v, 0.0),
                Step::Input(i) => (*x.get(i)?, 0.0),
                Step::Parameter(i) => {
                    let i = i - self.first_parameter;
                    (*b.get(i)?, f64::from(u8::from(by == Some(i))))
                }
                Step::Negate => {
                    let (v, d) = stack.pop()?;
                    (-v, -d)
                }
                Step::Apply(f) => {
                    let (v, d) = stack.pop()?;
                    let (value, slope) = f.at(v);
                    (value, if d == 0.0 { 0.0 } else { slope * d })
                }
                _ => {
                    let (v, dv) = stack.pop()?;
                    let (u, du) = stack.pop()?;
                    match *step {
                        Step::Add => (u + v, du + dv),
                        Step::Subtract => (u - v, du - dv),
                        Step::Multiply => (u * v, du * v + u * dv),
                        Step::Divide => (u / v, (du - u / v * dv) / v),
                        _ => {
                            let value = u.powf(v);
                            let by_base = if du == 0.0 {
                                0.0
                            } else {
                                v * u.powf(v - 1.0) * du
                            };
                            let by_power = if dv == 0.0 { 0.0 } else { value * u.ln() * dv };
                            (value, by_base + by_power)
                        }
                    }
                }
            };
            stack.push(next);
        }
        stack.pop()
    }

    /// The formula's value at inputs `x` and parameters `b`.
    #[must_use]
    pub fn at(&self, x: &[f64], b: &[f64]) -> Option<f64> {
        self.value(x, b, None)
            .map(|v| v.0)
            .filter(|v| v.is_finite())
    }
}

impl Reader<'_> {
    fn peek(&self) -> Option<char> {
        self.text.get(self.at..).and_then(|t| t.chars().next())
    }
    fn skip(&mut self) {
        while self.peek().is_some_and(char::is_whitespace) {
            self.at += self.peek().map_or(0, char::len_utf8);
        }
    }
    fn error(&self, what: String) -> ExpressionError {
        let before = self.text.get(..self.at).unwrap_or("");
        ExpressionError {
            at: before.chars().count() + 1,
            what,
        }
    }
    fn take(&mut self, c: char) -> bool {
        self.skip();
        let there = self.peek() == Some(c);
        if there {
            self.at += c.len_utf8();
        }
        there
    }
    fn sum(&mut self) -> Result<(), ExpressionError> {
        self.depth += 1;
        if self.depth > DEEPEST {
            return Err(self.error("there are too many brackets inside each other".to_owned()));
        }
        self.product()?;
        loop {
            if self.take('+') {
                self.product()?;
                self.steps.push(Step::Add);
            } else if self.take('-') || self.take('−') {
                self.product()?;
                self.steps.push(Step::Subtract);
            } else {
                self.depth -= 1;
                return Ok(());
            }
        }
    }
    fn product(&mut self) -> Result<(), ExpressionError> {
        self.signed()?;
        loop {
            if self.take('*') || self.take('·') {
                self.signed()?;
                self.steps.push(Step::Multiply);
            } else if self.take('/') {
                self.signed()?;
                self.steps.push(Step::Divide);
            } else {
                self.skip();
                let begins = |c: char| c == '(' || c.is_alphanumeric() || c == '.';
                if !self.peek().is_some_and(begins) {
                    return Ok(());
                }
                self.power()?;
                self.steps.push(Step::Multiply);
            }
        }
    }
    fn signed(&mut self) -> Result<(), ExpressionError> {
        let mut minus = false;
        loop {
            if self.take('-') || self.take('−') {
                minus = !minus;
            } else if !self.take('+') {
                break;
            }
        }
        self.power()?;
        if minus {
            self.steps.push(Step::Negate);
        }
        Ok(())
    }
    fn power(&mut self) -> Result<(), ExpressionError> {
        self.atom()?;
        if self.take('^') {
            self.depth += 1;
            if self.depth > DEEPEST {
                return Err(self.error("there are too many powers inside each other".to_owned()));
            }
            self.signed()?;
            self.depth -= 1;
            self.steps.push(Step::Power);
        }
        Ok(())
    }
    fn atom(&mut self) -> Result<(), ExpressionError> {
        self.skip();
        let rest = self.text.get(self.at..).unwrap_or("");
        let Some(first) = rest.chars().next() else {
            return Err(self.error("something is missing at the end".to_owned()));
        };
        if first == '(' {
            self.at += 1;
            self.sum()?;
            return if self.take(')') {
                Ok(())
            } else {
                Err(self.error("a closing bracket is missing".to_owned()))
            };
        }
        let letter = first.is_ascii_alphabetic();
        let length = rest
            .find(|c: char| {
                !(c.is_ascii_digit()
                    || (letter && (c.is_ascii_alphabetic() || c == '_'))
                    || (!letter && c == '.'))
            })
            .unwrap_or(rest.len());
        let word = rest.get(..length).unwrap_or("");
        if word.is_empty() {
            return Err(self.error(format!("“{first}” is not expected here")));
        }
        if !letter {
            let number = word
                .parse()
                .map_err(|e| self.error(format!("“{word}” is not a number ({e})")))?;
            self.at += length;
            self.steps.push(Step::Number(number));
            return Ok(());
        }
        if let Some(function) = Function::named(word) {
            self.at += length;
            if !self.take('(') {
                return Err(self.error(format!("{word} needs a bracket")));
            }
            self.sum()?;
            if !self.take(')') {
                return Err(self.error("a closing bracket is missing".to_owned()));
            }
            self.steps.push(Step::Apply(function));
            return Ok(());
        }
        let numbered = |letter: char| {
            word.strip_prefix(letter)
                .and_then(|n| n.parse::<usize>().ok())
                .filter(|n| *n <= 40)
        };
        let step = if word == "pi" {
            Step::Number(std::f64::consts::PI)
        } else if word == "x" {
            self.inputs = self.inputs.max(1);
            Step::Input(0)
        } else if let Some(n) = numbered('x').filter(|n| *n > 0) {
            self.inputs = self.inputs.max(n);
            Step::Input(n - 1)
        } else if let Some(n) = numbered('b') {
            self.parameters.insert(n);
            Step::Parameter(n)
        } else {
            return Err(self.error(format!(
                "“{word}” is not known; use x, b1, b2 …, exp, ln, sqrt, sin, cos, tan, atan, pi"
            )));
        };
        self.at += length;
        self.steps.push(step);
        Ok(())
    }
}

/// A formula laid beside measured values.
#[derive(Debug)]
pub struct ExpressionCurve<'a> {
    /// The model.
    pub formula: &'a Expression,
    /// Inputs, one row a reading.
    pub x: &'a [Vec<f64>],
    /// Values as the formula gives them (logarithms where it gives those).
    pub y: &'a [f64],
}

impl Curve for ExpressionCurve<'_> {
    fn readings(&self) -> usize {
        self.y.len()
    }
    fn residuals(&self, b: &[f64]) -> Option<Vec<f64>> {
        self.x
            .iter()
            .zip(self.y)
            .map(|(x, y)| Some(self.formula.at(x, b)? - y))
            .collect()
    }
    fn jacobian(&self, b: &[f64]) -> Option<DMatrix<f64>> {
        let mut j = DMatrix::zeros(self.x.len(), b.len());
        for (i, x) in self.x.iter().enumerate() {
            for k in 0..b.len() {
                j[(i, k)] = self.formula.value(x, b, Some(k))?.1;
            }
        }
        Some(j)
    }
}
