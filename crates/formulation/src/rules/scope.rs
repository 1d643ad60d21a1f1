//! Which products a rule speaks of, as an expression that may stay undecided.

use std::fmt;
use std::sync::Arc;

use crate::formula::{BodySite, Market, Product, ProductType};
use crate::material::ProductKind;

/// Whether a condition holds. What the formula does not tell is `Maybe`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Truth {
    /// It does not hold.
    No,
    /// The formula does not tell.
    Maybe,
    /// It holds.
    Yes,
}

impl Truth {
    /// Of something known.
    pub const fn of(value: bool) -> Self {
        if value { Self::Yes } else { Self::No }
    }
    /// The opposite; what is undecided stays so.
    #[must_use]
    pub const fn negated(self) -> Self {
        match self {
            Self::No => Self::Yes,
            Self::Maybe => Self::Maybe,
            Self::Yes => Self::No,
        }
    }
}

/// A property of a product that a rule may ask.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Word {
    /// Washed off.
    RinseOff,
    /// Stays on.
    LeaveOn,
    /// Used on a place.
    BodySite(BodySite),
    /// Used on hair or scalp.
    Hair,
    /// Used on skin: any place but hair, scalp, nails and mouth.
    Skin,
    /// Used on a mucous membrane: mouth, lips, eye or intimate area.
    Mucous,
    /// A type of product.
    Type(ProductType),
    /// A hair dye of either kind.
    HairDye,
    /// Made for children under three.
    UnderThree,
    /// Sprayed.
    Spray,
    /// May be inhaled: a spray or a loose powder.
    Inhalation,
    /// For professional use.
    Professional,
    /// Sold in a market.
    Sold(Market),
}

impl Word {
    fn parse(text: &str) -> Option<Self> {
        Some(match text {
            "rinse-off" => Self::RinseOff,
            "leave-on" => Self::LeaveOn,
            "hair" => Self::Hair,
            "skin" => Self::Skin,
            "mucous" => Self::Mucous,
            "hair-dye" => Self::HairDye,
            "under-three" => Self::UnderThree,
            "spray" => Self::Spray,
            "inhalation" => Self::Inhalation,
            "professional" => Self::Professional,
            "in-eu" => Self::Sold(Market::Eu),
            "in-gb" => Self::Sold(Market::Uk),
            "in-us" => Self::Sold(Market::Us),
            "body" => Self::BodySite(BodySite::Body),
            "hands" => Self::BodySite(BodySite::Hands),
            "feet" => Self::BodySite(BodySite::Feet),
            "face" => Self::BodySite(BodySite::Face),
            "eye" => Self::BodySite(BodySite::EyeArea),
            "lips" => Self::BodySite(BodySite::Lips),
            "nails" => Self::BodySite(BodySite::Nails),
            "underarm" => Self::BodySite(BodySite::Underarm),
            "mouth" => Self::BodySite(BodySite::Mouth),
            "intimate" => Self::BodySite(BodySite::Intimate),
            other => Self::Type(ProductType::from_word(other)?),
        })
    }

    /// Whether a product has the property.
    pub fn holds(self, product: &Product) -> Truth {
        let place = |wanted: &[BodySite]| {
            // A toothpaste is for the mouth, whatever else is stated.
            let of_type = product.product_type.map_or(&[][..], ProductType::places);
            if !of_type.is_empty() && of_type.iter().all(|p| wanted.contains(p)) {
                Truth::Yes
            } else if product.places.is_empty() {
                Truth::Maybe
            } else {
                Truth::of(product.places.iter().any(|p| wanted.contains(p)))
            }
        };
        match self {
            Self::RinseOff => Truth::of(product.kinds.contains(ProductKind::RinseOff)),
            Self::LeaveOn => Truth::of(product.kinds.contains(ProductKind::LeaveOn)),
            Self::BodySite(one) => place(&[one]),
            Self::Hair => place(&[BodySite::Hair, BodySite::Scalp]),
            Self::Skin => place(&[
                BodySite::Body,
                BodySite::Hands,
                BodySite::Feet,
                BodySite::Face,
                BodySite::EyeArea,
                BodySite::Lips,
                BodySite::Underarm,
                BodySite::Intimate,
            ]),
            Self::Mucous => place(&[
                BodySite::Mouth,
                BodySite::Lips,
                BodySite::EyeArea,
                BodySite::Intimate,
            ]),
            Self::Type(wanted) => is_type(product, wanted),
            Self::HairDye => is_type(product, ProductType::HairDyeOxidative)
                .max(is_type(product, ProductType::HairDyeNonOxidative)),
            Self::UnderThree => Truth::of(product.under_three),
            Self::Spray => Truth::of(product.spray),
            Self::Professional => Truth::of(product.professional),
            Self::Sold(market) => Truth::of(product.markets.contains(&market)),
            Self::Inhalation => match product.product_type {
                _ if product.spray => Truth::Yes,
                Some(ProductType::Powder) => Truth::Yes,
                Some(ProductType::FaceMakeUp | ProductType::EyeMakeUp) => Truth::Maybe,
                None | Some(ProductType::Unlisted)
                    if product.kinds.contains(ProductKind::LeaveOn) =>
                {
                    Truth::Maybe
                }
                _ => Truth::No,
            },
        }
    }

    const fn label(self) -> &'static str {
        match self {
            Self::RinseOff => "rinse-off",
            Self::LeaveOn => "leave-on",
            Self::Hair => "for hair or scalp",
            Self::Skin => "for the skin",
            Self::Mucous => "on mucous membranes",
            Self::HairDye => "hair dye",
            Self::UnderThree => "for children under three years",
            Self::Spray => "sprayed",
            Self::Inhalation => "with a chance of being inhaled",
            Self::Professional => "for professional use",
            Self::Sold(Market::Eu) => "sold in the European Union",
            Self::Sold(Market::Uk) => "sold in the United Kingdom",
            Self::Sold(Market::Us) => "sold in the United States",
            Self::Type(one) => one.label(),
            Self::BodySite(BodySite::Mouth) => "for the mouth",
            Self::BodySite(BodySite::EyeArea) => "for the eye area",
            Self::BodySite(BodySite::Lips) => "for the lips",
            Self::BodySite(BodySite::Face) => "for the face",
            Self::BodySite(BodySite::Hands) => "for the hands",
            Self::BodySite(BodySite::Feet) => "for the feet",
            Self::BodySite(BodySite::Nails) => "for the nails",
            Self::BodySite(BodySite::Body) => "for the body",
            Self::BodySite(BodySite::Underarm) => "for the underarm",
            Self::BodySite(BodySite::Intimate) => "for the intimate area",
            Self::BodySite(other) => other.label(),
        }
    }
}

/// Where no type is stated, a type is possible if kind and places allow it.
pub(super) fn is_type(product: &Product, wanted: ProductType) -> Truth {
    if let Some(stated) = product.product_type {
        return Truth::of(stated == wanted);
    }
    let kind = wanted.kind().is_none_or(|k| product.kinds.contains(k));
    let place =
        product.places.is_empty() || wanted.places().iter().any(|p| product.places.contains(p));
    if kind && place {
        Truth::Maybe
    } else {
        Truth::No
    }
}

/// An expression over the properties of a product.
///
/// Written `rinse-off & !mouth`, `face | hands`, `deodorant & [roll-on]`: `&` binds
/// tighter than `|`, `!` tightest; words in square brackets are a condition that
/// no field of the formula answers, so it stays undecided and is shown to be read.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Scope {
    /// Every product.
    All,
    /// Every product that no other limit of the entry speaks of.
    Other,
    /// A property.
    Is(Word),
    /// A condition in words, never decided here.
    Text(Arc<str>),
    /// The opposite.
    Not(Box<Self>),
    /// All of them.
    And(Vec<Self>),
    /// One of them.
    Or(Vec<Self>),
}

/// Why a text is not a scope.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum ScopeError {
    /// A word that is none.
    #[error(
        "“{0}” is not a property of a product known here; write free conditions in square brackets"
    )]
    Word(String),
    /// A bracket without its partner, an operator without its side.
    #[error("“{0}” is not complete: an operator or bracket lacks its other side")]
    Incomplete(String),
    /// Nested too deeply to be meant.
    #[error("brackets are nested too deeply in “{0}”")]
    TooDeep(String),
}

/// Deeper nesting than this is refused.
const MOST_NESTED: usize = 24;

impl Scope {
    /// Reads an expression.
    pub fn parse(text: &str) -> Result<Self, ScopeError> {
        let mut parser = Parser {
            text,
            rest: text,
            depth: 0,
        };
        let scope = parser.either()?;
        parser.skip();
        if parser.rest.is_empty() {
            Ok(scope)
        } else {
            Err(ScopeError::Incomplete(text.to_owned()))
        }
    }

    /// Whether it holds for a product. `Other` is decided by the entry, see
    /// [`super::entry::ListEntry::truths`]; here it is undecided.
    pub fn holds(&self, product: &Product) -> Truth {
        match self {
            Self::All => Truth::Yes,
            Self::Other | Self::Text(_) => Truth::Maybe,
            Self::Is(word) => word.holds(product),
            Self::Not(inner) => inner.holds(product).negated(),
            Self::And(all) => all
                .iter()
                .map(|s| s.holds(product))
                .min()
                .unwrap_or(Truth::Yes),
            Self::Or(any) => any
                .iter()
                .map(|s| s.holds(product))
                .max()
                .unwrap_or(Truth::No),
        }
    }

    /// Whether nothing but a condition in words is open: everything else that it asks of the
    /// product holds, among it at least one property that not every product has.
    pub fn only_words_open(&self, product: &Product) -> bool {
        let Self::And(parts) = self else {
            return false;
        };
        let words = |s: &Self| match s {
            Self::Not(inner) => matches!(**inner, Self::Text(_)),
            other => matches!(other, Self::Text(_)),
        };
        let nested = |s: &Self| s.only_words_open(product);
        let told = |s: &Self| words(s) || s.holds(product) == Truth::Yes || nested(s);
        self.holds(product) == Truth::Maybe
            && parts.iter().all(told)
            && (parts.iter()).any(|s| matches!(s, Self::Is(_)) || nested(s))
    }

    /// Adds the types of product it asks for.
    pub(super) fn types(&self, types: &mut Vec<ProductType>) {
        let mut add = |wanted: &[ProductType]| {
            for t in wanted {
                if !types.contains(t) {
                    types.push(*t);
                }
            }
        };
        match self {
            Self::Is(Word::Type(one)) => add(&[*one]),
            Self::Is(Word::HairDye) => add(&[
                ProductType::HairDyeOxidative,
                ProductType::HairDyeNonOxidative,
            ]),
            Self::Is(Word::Inhalation) => add(&[
                ProductType::Powder,
                ProductType::FaceMakeUp,
                ProductType::EyeMakeUp,
            ]),
            Self::All | Self::Other | Self::Text(_) | Self::Is(_) => {}
            Self::Not(inner) => inner.types(types),
            Self::And(all) | Self::Or(all) => all.iter().for_each(|s| s.types(types)),
        }
    }

    /// Whether it asks for a type of product.
    pub fn asks_type(&self) -> bool {
        let mut types = Vec::new();
        self.types(&mut types);
        !types.is_empty()
    }

    /// The conditions in words that it contains.
    pub fn texts(&self) -> Vec<&str> {
        match self {
            Self::Text(text) => vec![text],
            Self::All | Self::Other | Self::Is(_) => Vec::new(),
            Self::Not(inner) => inner.texts(),
            Self::And(all) | Self::Or(all) => all.iter().flat_map(Self::texts).collect(),
        }
    }

    fn needs_brackets(&self) -> bool {
        matches!(self, Self::And(_) | Self::Or(_))
    }
}

impl fmt::Display for Scope {
    /// In words, to be read after "products that are".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let join = |f: &mut fmt::Formatter<'_>, parts: &[Self], word: &str| {
            for (i, part) in parts.iter().enumerate() {
                if i > 0 {
                    f.write_str(word)?;
                }
                if part.needs_brackets() {
                    write!(f, "({part})")?;
                } else {
                    write!(f, "{part}")?;
                }
            }
            Ok(())
        };
        match self {
            Self::All => f.write_str("any product"),
            Self::Other => f.write_str("any other product"),
            Self::Is(word) => f.write_str(word.label()),
            Self::Text(text) => f.write_str(text),
            Self::Not(inner) if inner.needs_brackets() => write!(f, "not ({inner})"),
            Self::Not(inner) => write!(f, "not {inner}"),
            Self::And(parts) => join(f, parts, ", "),
            Self::Or(parts) => join(f, parts, " or "),
        }
    }
}

struct Parser<'t> {
    text: &'t str,
    rest: &'t str,
    depth: usize,
}

impl Parser<'_> {
    fn skip(&mut self) {
        self.rest = self.rest.trim_start();
    }

    fn eat(&mut self, mark: char) -> bool {
        self.skip();
        match self.rest.strip_prefix(mark) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    fn either(&mut self) -> Result<Scope, ScopeError> {
        let mut parts = vec![self.both()?];
        while self.eat('|') {
            parts.push(self.both()?);
        }
        Ok(match parts.pop() {
            Some(one) if parts.is_empty() => one,
            Some(last) => {
                parts.push(last);
                Scope::Or(parts)
            }
            None => Scope::All,
        })
    }

    fn both(&mut self) -> Result<Scope, ScopeError> {
        let mut parts = vec![self.single()?];
        while self.eat('&') {
            parts.push(self.single()?);
        }
        Ok(match parts.pop() {
            Some(one) if parts.is_empty() => one,
            Some(last) => {
                parts.push(last);
                Scope::And(parts)
            }
            None => Scope::All,
        })
    }

    fn single(&mut self) -> Result<Scope, ScopeError> {
        self.depth += 1;
        if self.depth > MOST_NESTED {
            return Err(ScopeError::TooDeep(self.text.chars().take(60).collect()));
        }
        let incomplete = || ScopeError::Incomplete(self.text.to_owned());
        let scope = if self.eat('!') {
            Scope::Not(Box::new(self.single()?))
        } else if self.eat('(') {
            let inner = self.either()?;
            if !self.eat(')') {
                return Err(ScopeError::Incomplete(self.text.to_owned()));
            }
            inner
        } else if self.eat('[') {
            let Some((words, rest)) = self.rest.split_once(']') else {
                return Err(ScopeError::Incomplete(self.text.to_owned()));
            };
            self.rest = rest;
            Scope::Text(words.trim().into())
        } else {
            self.skip();
            let end = self
                .rest
                .find(|c: char| !(c.is_ascii_alphanumeric() || c == '-'))
                .unwrap_or(self.rest.len());
            let (word, rest) = self.rest.split_at(end);
            if word.is_empty() {
                return Err(incomplete());
            }
            self.rest = rest;
            match word {
                "all" => Scope::All,
                "other" => Scope::Other,
                _ => Scope::Is(Word::parse(word).ok_or_else(|| ScopeError::Word(word.to_owned()))?),
            }
        };
        self.depth -= 1;
        Ok(scope)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn product(
        kind: ProductKind,
        places: &[BodySite],
        product_type: Option<ProductType>,
    ) -> Product {
        Product {
            kinds: kind.into(),
            places: places.to_vec(),
            product_type,
            ..Product::default()
        }
    }

    /// The place stated with a new product is the body; a type that has one place alone is used
    /// there all the same.
    #[test]
    fn the_type_tells_where_a_product_is_used() {
        for (of, word) in [
            (ProductType::Toothpaste, "mouth"),
            (ProductType::LipProduct, "lips"),
            (ProductType::EyeMakeUp, "eye & mucous"),
            (ProductType::IntimateCare, "intimate"),
            (ProductType::Shampoo, "hair"),
        ] {
            let stated = product(ProductKind::RinseOff, &[BodySite::Body], Some(of));
            let scope = Scope::parse(word).unwrap();
            assert_eq!(scope.holds(&stated), Truth::Yes, "{of:?}");
            // A product that may be used there need not be.
            let lotion = product(
                ProductKind::LeaveOn,
                &[BodySite::Body],
                Some(ProductType::SunCare),
            );
            assert_eq!(scope.holds(&lotion), Truth::No, "{of:?}");
        }
    }

    #[test]
    fn what_the_formula_tells_is_decided_and_the_rest_stays_open() {
        let lotion = product(ProductKind::LeaveOn, &[BodySite::Body], None);
        let shampoo = product(
            ProductKind::RinseOff,
            &[BodySite::Hair],
            Some(ProductType::Shampoo),
        );
        for (text, for_lotion, for_shampoo) in [
            ("all", Truth::Yes, Truth::Yes),
            ("rinse-off & !mouth", Truth::No, Truth::Yes),
            ("leave-on", Truth::Yes, Truth::No),
            ("shampoo", Truth::No, Truth::Yes),
            ("body-lotion", Truth::Maybe, Truth::No),
            ("!body-lotion", Truth::Maybe, Truth::Yes),
            ("toothpaste", Truth::No, Truth::No),
            ("hair | face", Truth::No, Truth::Yes),
            ("leave-on & [roll-on]", Truth::Maybe, Truth::No),
            ("(skin | hair) & !spray", Truth::Yes, Truth::Yes),
            ("hair-dye", Truth::No, Truth::No),
        ] {
            let scope = Scope::parse(text).unwrap();
            assert_eq!(scope.holds(&lotion), for_lotion, "{text} for a lotion");
            assert_eq!(scope.holds(&shampoo), for_shampoo, "{text} for a shampoo");
        }
    }

    #[test]
    fn words_alone_are_open_where_all_else_is_told() {
        let spray = Product {
            spray: true,
            ..product(ProductKind::LeaveOn, &[BodySite::Hair], None)
        };
        let cream = product(
            ProductKind::LeaveOn,
            &[BodySite::Face],
            Some(ProductType::FaceCream),
        );
        for (text, for_spray, for_cream) in [
            ("spray & [fine dust]", true, false),
            ("[fine dust] & (inhalation)", true, false),
            // However they are bracketed, and negated or not.
            ("(spray & [fine dust]) & !professional", true, false),
            ("spray & ![coarse dust]", true, false),
            ("face & [fine dust] & !spray", false, true),
            // What no word of the formula bears on speaks of every product or none.
            ("[fine dust]", false, false),
            ("[fine dust] & !professional", false, false),
            ("spray | [fine dust]", false, false),
            // The type is not stated, so that more than words is open.
            ("shampoo & [fine dust]", false, false),
            ("hair & hair-leave-on & [fine dust]", false, false),
            // Nothing is open.
            ("spray & hair", false, false),
        ] {
            let scope = Scope::parse(text).unwrap();
            assert_eq!(scope.only_words_open(&spray), for_spray, "{text}, a spray");
            assert_eq!(scope.only_words_open(&cream), for_cream, "{text}, a cream");
        }
    }

    #[test]
    fn broken_expressions_are_refused() {
        for text in [
            "",
            "a & ",
            "rinse-off &",
            "(hair",
            "hair)",
            "[open",
            "shampooo",
            "!",
            "hair hair",
        ] {
            assert!(Scope::parse(text).is_err(), "{text}");
        }
        assert!(matches!(
            Scope::parse(&"(".repeat(10_000)),
            Err(ScopeError::TooDeep(_))
        ));
        assert!(matches!(
            Scope::parse(&"!".repeat(10_000)),
            Err(ScopeError::TooDeep(_))
        ));
    }

    #[test]
    fn scopes_read_as_words() {
        let shown = |text: &str| Scope::parse(text).unwrap().to_string();
        assert_eq!(shown("rinse-off & !mouth"), "rinse-off, not for the mouth");
        assert_eq!(shown("face | hands"), "for the face or for the hands");
        assert_eq!(
            shown("leave-on & (skin | hair)"),
            "leave-on, (for the skin or for hair or scalp)"
        );
    }
}
