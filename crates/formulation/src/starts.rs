//! Starting phases for common kinds of product: phases and steps of work without raw
//! materials, as data in `assets/starts`.

use std::sync::{Arc, OnceLock};

use crate::file::formula_file;
use crate::formula::{Formula, Product};
use crate::notation::read_error::ReadError;
use crate::quantity::Ph;

/// Phases to begin a formula with.
#[derive(Clone, Debug)]
pub struct Start {
    formula: Formula,
}

macro_rules! texts {
    ($($file:literal),* $(,)?) => {
        [$(($file, include_str!(concat!("../../../assets/starts/", $file)))),*]
    };
}

/// The files, in the order in which they are offered.
const TEXTS: [(&str, &str); 6] = texts!(
    "gel-with-gum.formula.ron",
    "sulfate-wash-with-salt.formula.ron",
    "oil-in-water.formula.ron",
    "balm.formula.ron",
    "conditioner.formula.ron",
    "bar.formula.ron",
);

/// All starts; a file that cannot be read is left out, which [`errors`] tells.
pub fn starts() -> &'static [Start] {
    &read().0
}

/// What is wrong with the files that come with the program; a test holds this empty.
pub fn errors() -> &'static [ReadError] {
    &read().1
}

fn read() -> &'static (Vec<Start>, Vec<ReadError>) {
    static READ: OnceLock<(Vec<Start>, Vec<ReadError>)> = OnceLock::new();
    READ.get_or_init(|| {
        let (mut starts, mut errors) = (Vec::new(), Vec::new());
        for (file, text) in TEXTS {
            match formula_file::read(text, file) {
                Ok(formula) => starts.push(Start { formula }),
                Err(error) => errors.push(error),
            }
        }
        (starts, errors)
    })
}

impl Start {
    /// What it is called.
    pub fn name(&self) -> &str {
        &self.formula.name
    }
    /// What it is for, in a sentence.
    pub fn says(&self) -> &str {
        &self.formula.notes
    }
    /// What the product usually is.
    pub fn product(&self) -> &Product {
        &self.formula.active().product
    }
    /// A new formula with these phases.
    pub fn formula(&self) -> &Formula {
        &self.formula
    }
}

/// A new formula: with the phases of a start, or with one empty phase.
pub fn begin(
    start: Option<&Start>,
    name: &str,
    product: Product,
    target_ph: Option<Ph>,
) -> Formula {
    let mut formula = start.map_or_else(|| Formula::new(name), |s| s.formula.clone());
    formula.name = name.into();
    formula.notes = "".into();
    for variant in &mut formula.variants {
        let variant = Arc::make_mut(variant);
        variant.product = product.clone();
        variant.target_ph = target_ph;
    }
    formula
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::PhaseKind;

    #[test]
    fn every_start_has_phases_and_steps_and_no_lines() {
        assert_eq!(errors(), []);
        assert_eq!(starts().len(), TEXTS.len());
        for start in starts() {
            let variant = start.formula().active();
            assert!(variant.phases.len() > 1, "{}", start.name());
            assert_eq!(variant.lines().count(), 0, "{}", start.name());
            assert!(!start.says().is_empty());
            for phase in &variant.phases {
                assert!(!phase.steps.is_empty() && !phase.purpose.is_empty());
                // What goes in cold is not made hot by a step of the phase itself.
                assert!(
                    phase.kind != PhaseKind::CoolDown || phase.hottest() == phase.temperature,
                    "{}",
                    start.name()
                );
            }
        }
    }

    #[test]
    fn a_formula_begins_with_what_was_stated() {
        let product = Product {
            markets: vec![crate::formula::Market::Uk],
            ..starts()[0].product().clone()
        };
        let formula = begin(
            starts().first(),
            "Winter gel",
            product.clone(),
            Ph::new(5.0),
        );
        assert_eq!(&*formula.name, "Winter gel");
        assert_eq!(&*formula.notes, "");
        assert_eq!(formula.active().product, product);
        assert_eq!(formula.active().target_ph, Ph::new(5.0));
        assert_eq!(begin(None, "x", product, None).active().phases.len(), 1);
    }
}
