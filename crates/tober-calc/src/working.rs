//! Working: the lines that show how a number was obtained.
//!
//! A number of a finding is not computed in one place and explained in another. It is built as a
//! [`Term`], and the term *is* the computation: the value shown is the value of the term, and the
//! line printed is the same term with its symbols and then with its numbers.
//!
//! ```
//! use tober_calc::working::{Provenance, Working};
//! use tober_quantity::{Area, Force, Shown, UnitSet};
//!
//! let mut working = Working::new();
//! let load = working.given("R", "load on the leg", Force::kn(42.0), Provenance::Computed);
//! let area = working.given("A", "area of the bottom board", Area::m2(0.36), Provenance::measured("tape"));
//! let pressure = working.line("p", "pressure on the ground", load / area, Shown::Pressure);
//! assert!((pressure.value() - 116_666.67).abs() < 0.01);
//! let printed = working.print(UnitSet::Metric);
//! assert_eq!(printed[2].symbols, "p = R / A");
//! ```
//!
//! Invariant: a line's number is its term's value; there is no way to set one without the other.

use core::fmt;
use core::ops::{Add, Div, Mul, Neg, Sub};
use tober_quantity::{Amount, Dimension, Shown, UnitSet, maths, significant};

/// How many significant digits the working prints. Enough that a reader with a pocket calculator
/// gets the printed result back to its last digit but one.
pub const DIGITS: usize = 6;

/// Where an input came from. Every finding that rests on it says so.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Provenance {
    /// The maker's figure, from the manual or the plate.
    Maker,
    /// Put on a scale.
    Weighed,
    /// Read with an instrument.
    Measured {
        /// With what: tape, staff, level, jack gauge.
        with: String,
    },
    /// Taken from a published table.
    Tabulated {
        /// Document, table, edition.
        source: String,
    },
    /// Somebody's estimate.
    Guessed,
    /// A fixed rule of the trade or of this tool, with its reason.
    Chosen {
        /// Why this value.
        reason: String,
    },
    /// The result of another finding of the same plan.
    Computed,
}

impl Provenance {
    /// Read with an instrument.
    pub fn measured(with: &str) -> Self {
        Self::Measured { with: with.to_owned() }
    }
    /// Taken from a published table.
    pub fn tabulated(source: &str) -> Self {
        Self::Tabulated { source: source.to_owned() }
    }
    /// A fixed rule, with its reason.
    pub fn chosen(reason: &str) -> Self {
        Self::Chosen { reason: reason.to_owned() }
    }
}

impl fmt::Display for Provenance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Maker => f.write_str("maker's figure"),
            Self::Weighed => f.write_str("weighed"),
            Self::Measured { with } => write!(f, "measured, {with}"),
            Self::Tabulated { source } => write!(f, "table: {source}"),
            Self::Guessed => f.write_str("guessed"),
            Self::Chosen { reason } => write!(f, "chosen: {reason}"),
            Self::Computed => f.write_str("computed above"),
        }
    }
}

/// A function of one term.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Function {
    /// Square root.
    Sqrt,
    /// Sine of an angle.
    Sin,
    /// Cosine of an angle.
    Cos,
    /// Tangent of an angle.
    Tan,
    /// `e` to the power.
    Exp,
    /// Natural logarithm.
    Ln,
    /// Without its sign.
    Abs,
}

impl Function {
    /// How it is written before its brackets.
    pub fn name(self) -> &'static str {
        match self {
            Self::Sqrt => "sqrt",
            Self::Sin => "sin",
            Self::Cos => "cos",
            Self::Tan => "tan",
            Self::Exp => "exp",
            Self::Ln => "ln",
            Self::Abs => "abs",
        }
    }
}

#[derive(Clone, Debug, PartialEq)]
enum Node {
    /// A number that belongs to the formula itself, such as the 2 of a mean.
    Number,
    /// A line further up, by its symbol, in the unit in which that line was shown.
    Symbol(String, Shown),
    Negative(Box<Term>),
    Sum(Box<Term>, Box<Term>),
    Difference(Box<Term>, Box<Term>),
    Product(Box<Term>, Box<Term>),
    Quotient(Box<Term>, Box<Term>),
    Power(Box<Term>, f64),
    Call(Function, Box<Term>),
    Least(Vec<Term>),
    Greatest(Vec<Term>),
}

/// An expression together with its value in coherent SI units and its dimension.
#[derive(Clone, Debug, PartialEq)]
pub struct Term {
    node: Node,
    value: f64,
    dimension: Dimension,
}

/// A plain number of a formula.
pub fn number(value: f64) -> Term {
    Term { node: Node::Number, value, dimension: Dimension::NONE }
}

/// The least of several terms of one dimension. `terms` holds at least one.
pub fn least(terms: Vec<Term>) -> Term {
    let value = terms.iter().map(Term::value).fold(f64::INFINITY, f64::min);
    let dimension = common_dimension(&terms);
    Term { node: Node::Least(terms), value, dimension }
}

/// The greatest of several terms of one dimension. `terms` holds at least one.
pub fn greatest(terms: Vec<Term>) -> Term {
    let value = terms.iter().map(Term::value).fold(f64::NEG_INFINITY, f64::max);
    let dimension = common_dimension(&terms);
    Term { node: Node::Greatest(terms), value, dimension }
}

/// The sum of several terms; the number 0 where there are none.
pub fn sum(terms: impl IntoIterator<Item = Term>) -> Term {
    terms.into_iter().reduce(|a, b| a + b).unwrap_or_else(|| number(0.0))
}

fn common_dimension(terms: &[Term]) -> Dimension {
    let Some(first) = terms.first() else { return Dimension::NONE };
    for term in terms {
        same_dimension(first, term);
    }
    first.dimension
}

/// Adding a length to a force is a fault of the formula, never of its data, so it stops the sum.
fn same_dimension(a: &Term, b: &Term) {
    assert_eq!(a.dimension, b.dimension, "both sides of a sum or comparison measure the same");
}

impl Term {
    /// The value in coherent SI units.
    pub fn value(&self) -> f64 {
        self.value
    }
    /// What it measures.
    pub fn dimension(&self) -> Dimension {
        self.dimension
    }
    /// To a power; the exponent is a plain number. Only a plain number may take a broken exponent.
    #[must_use]
    pub fn power(self, exponent: f64) -> Self {
        let whole = exponent.round();
        #[expect(clippy::cast_possible_truncation, reason = "exponents of formulas are small")]
        let dimension = if self.dimension == Dimension::NONE {
            Dimension::NONE
        } else {
            assert!((exponent - whole).abs() < 1e-12, "a quantity with a unit takes a whole exponent");
            self.dimension.power(whole as i8)
        };
        let value = maths::pow(self.value, exponent);
        Self { node: Node::Power(Box::new(self), exponent), value, dimension }
    }
    /// The square.
    #[must_use]
    pub fn squared(self) -> Self {
        self.power(2.0)
    }
    fn call(self, function: Function) -> Self {
        let x = self.value;
        let (value, dimension) = match function {
            Function::Sqrt => {
                let root = self.dimension.root();
                (x.sqrt(), root.expect("the root of a quantity has whole exponents"))
            }
            Function::Abs => (x.abs(), self.dimension),
            _ => {
                assert_eq!(self.dimension, Dimension::NONE, "a plain number or an angle goes in here");
                let value = match function {
                    Function::Sin => maths::sin(x),
                    Function::Cos => maths::cos(x),
                    Function::Tan => maths::tan(x),
                    Function::Exp => maths::exp(x),
                    _ => maths::ln(x),
                };
                (value, Dimension::NONE)
            }
        };
        Self { node: Node::Call(function, Box::new(self)), value, dimension }
    }
    /// The square root.
    #[must_use]
    pub fn sqrt(self) -> Self {
        self.call(Function::Sqrt)
    }
    /// The sine of an angle.
    #[must_use]
    pub fn sin(self) -> Self {
        self.call(Function::Sin)
    }
    /// The cosine of an angle.
    #[must_use]
    pub fn cos(self) -> Self {
        self.call(Function::Cos)
    }
    /// The tangent of an angle.
    #[must_use]
    pub fn tan(self) -> Self {
        self.call(Function::Tan)
    }
    /// `e` to this power.
    #[must_use]
    pub fn exp(self) -> Self {
        self.call(Function::Exp)
    }
    /// The natural logarithm.
    #[must_use]
    pub fn ln(self) -> Self {
        self.call(Function::Ln)
    }
    /// Without its sign.
    #[must_use]
    pub fn abs(self) -> Self {
        self.call(Function::Abs)
    }

    /// How tightly the outermost operation binds, for the brackets.
    fn binding(&self) -> u8 {
        match self.node {
            Node::Sum(..) | Node::Difference(..) => 1,
            Node::Negative(_) => 2,
            Node::Product(..) | Node::Quotient(..) => 3,
            Node::Power(..) => 4,
            Node::Number if self.value < 0.0 => 2,
            Node::Number | Node::Symbol(..) | Node::Call(..) | Node::Least(_) | Node::Greatest(_) => 5,
        }
    }

    fn write(&self, out: &mut String, leaf: &dyn Fn(&Term) -> String) {
        let side = |term: &Term, at_least: u8, out: &mut String| {
            if term.binding() < at_least {
                out.push('(');
                term.write(out, leaf);
                out.push(')');
            } else {
                term.write(out, leaf);
            }
        };
        let list = |name: &str, terms: &[Term], out: &mut String| {
            out.push_str(name);
            out.push('(');
            for (i, term) in terms.iter().enumerate() {
                if i > 0 {
                    out.push_str("; ");
                }
                term.write(out, leaf);
            }
            out.push(')');
        };
        match &self.node {
            Node::Number | Node::Symbol(..) => out.push_str(&leaf(self)),
            Node::Negative(a) => {
                out.push('−');
                side(a, 3, out);
            }
            Node::Sum(a, b) => {
                side(a, 1, out);
                out.push_str(" + ");
                side(b, 2, out);
            }
            Node::Difference(a, b) => {
                side(a, 1, out);
                out.push_str(" − ");
                side(b, 3, out);
            }
            Node::Product(a, b) => {
                side(a, 3, out);
                out.push_str(" × ");
                side(b, 4, out);
            }
            Node::Quotient(a, b) => {
                side(a, 3, out);
                out.push_str(" / ");
                side(b, 4, out);
            }
            Node::Power(a, exponent) => {
                // A number with a unit takes brackets under a power, so that the unit is raised too.
                side(a, 6, out);
                out.push('^');
                out.push_str(&significant(*exponent, DIGITS));
            }
            Node::Call(function, a) => {
                out.push_str(function.name());
                out.push('(');
                a.write(out, leaf);
                out.push(')');
            }
            Node::Least(terms) => list("least", terms, out),
            Node::Greatest(terms) => list("greatest", terms, out),
        }
    }

    fn symbols(&self) -> String {
        let mut out = String::new();
        self.write(&mut out, &|term| match &term.node {
            Node::Symbol(symbol, _) => symbol.clone(),
            _ => significant(term.value, DIGITS),
        });
        out
    }

    fn numbers(&self, units: UnitSet) -> String {
        let mut out = String::new();
        self.write(&mut out, &|term| match &term.node {
            Node::Symbol(_, shown) => show(term.value, *shown, units),
            _ => significant(term.value, DIGITS),
        });
        out
    }
}

/// A value in the unit in which its line is shown, with [`DIGITS`] significant digits.
fn show(si: f64, shown: Shown, units: UnitSet) -> String {
    let unit = shown.unit(units);
    let digits = significant(si / unit.factor, DIGITS);
    if unit.symbol.is_empty() { digits } else { format!("{digits}\u{202f}{}", unit.symbol) }
}

impl Neg for Term {
    type Output = Self;
    fn neg(self) -> Self {
        let (value, dimension) = (-self.value, self.dimension);
        Self { node: Node::Negative(Box::new(self)), value, dimension }
    }
}
impl Add for Term {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        same_dimension(&self, &other);
        let (value, dimension) = (self.value + other.value, self.dimension);
        Self { node: Node::Sum(Box::new(self), Box::new(other)), value, dimension }
    }
}
impl Sub for Term {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        same_dimension(&self, &other);
        let (value, dimension) = (self.value - other.value, self.dimension);
        Self { node: Node::Difference(Box::new(self), Box::new(other)), value, dimension }
    }
}
impl Mul for Term {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        let (value, dimension) = (self.value * other.value, self.dimension * other.dimension);
        Self { node: Node::Product(Box::new(self), Box::new(other)), value, dimension }
    }
}
impl Div for Term {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let (value, dimension) = (self.value / other.value, self.dimension / other.dimension);
        Self { node: Node::Quotient(Box::new(self), Box::new(other)), value, dimension }
    }
}

/// What a line is: a value that was given, or one that was computed from lines above it.
#[derive(Clone, Debug, PartialEq)]
enum Right {
    Given(Provenance),
    Computed(Term),
}

/// One line of a working.
#[derive(Clone, Debug, PartialEq)]
struct Line {
    symbol: String,
    meaning: String,
    value: f64,
    shown: Shown,
    right: Right,
}

/// The lines that show how a number was obtained, in the order in which they were worked.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Working {
    lines: Vec<Line>,
}

/// One line as it is printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PrintedLine {
    /// What the symbol stands for.
    pub meaning: String,
    /// `p = R / A`; for a given value only its symbol.
    pub symbols: String,
    /// `42 kN / 0.36 m²`; empty for a given value.
    pub numbers: String,
    /// `116.667 kPa`.
    pub result: String,
    /// Where a given value came from; empty for a computed one.
    pub from: String,
}

/// An input of a finding and where it came from.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// Its symbol in the working.
    pub symbol: String,
    /// What it is.
    pub meaning: String,
    /// Its value.
    pub amount: Amount,
    /// Where it came from.
    pub provenance: Provenance,
}

impl Working {
    /// No lines yet.
    pub fn new() -> Self {
        Self::default()
    }
    /// Whether there are no lines.
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }
    /// Writes down a value that was given, and returns its symbol for use in further lines.
    pub fn given(
        &mut self,
        symbol: &str,
        meaning: &str,
        value: impl Into<Amount>,
        provenance: Provenance,
    ) -> Term {
        let amount = value.into();
        self.push(symbol, meaning, amount.si, amount.shown, Right::Given(provenance))
    }
    /// Writes down a computed value, and returns its symbol for use in further lines.
    ///
    /// # Panics
    /// If `shown` does not show the dimension of the term: a fault of the formula, never of its data.
    pub fn line(&mut self, symbol: &str, meaning: &str, term: Term, shown: Shown) -> Term {
        assert_eq!(term.dimension, shown.dimension(), "line {symbol} is shown in a unit that fits it");
        let value = term.value;
        self.push(symbol, meaning, value, shown, Right::Computed(term))
    }
    fn push(&mut self, symbol: &str, meaning: &str, value: f64, shown: Shown, right: Right) -> Term {
        self.lines.push(Line { symbol: symbol.to_owned(), meaning: meaning.to_owned(), value, shown, right });
        Term { node: Node::Symbol(symbol.to_owned(), shown), value, dimension: shown.dimension() }
    }
    /// Adds the lines of another working at the end.
    pub fn append(&mut self, other: Self) {
        self.lines.extend(other.lines);
    }
    /// The inputs, each with where it came from.
    pub fn inputs(&self) -> Vec<Input> {
        let given = |line: &Line| match &line.right {
            Right::Given(provenance) => Some(Input {
                symbol: line.symbol.clone(),
                meaning: line.meaning.clone(),
                amount: Amount { si: line.value, shown: line.shown },
                provenance: provenance.clone(),
            }),
            Right::Computed(_) => None,
        };
        self.lines.iter().filter_map(given).collect()
    }
    /// The lines as they are printed.
    pub fn print(&self, units: UnitSet) -> Vec<PrintedLine> {
        let print = |line: &Line| {
            let result = show(line.value, line.shown, units);
            let (symbols, numbers, from) = match &line.right {
                Right::Given(provenance) => (line.symbol.clone(), String::new(), provenance.to_string()),
                Right::Computed(term) => {
                    (format!("{} = {}", line.symbol, term.symbols()), term.numbers(units), String::new())
                }
            };
            PrintedLine { meaning: line.meaning.clone(), symbols, numbers, result, from }
        };
        self.lines.iter().map(print).collect()
    }
}
