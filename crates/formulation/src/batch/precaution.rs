//! What to wear and to mind when a material with a hazard is handled.
//!
//! Common practice of the workshop, no source; the supplier's safety data sheet of each
//! material governs, and the sheet says so.

use crate::handling::{equipment, heats_with_water, mind};
use crate::material::{Hazard, Material};

/// A piece of advice printed at the step where it matters.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum CautionKind {
    /// Protective equipment.
    Wear,
    /// How to handle.
    Handle,
    /// What to wet before water goes in.
    Wet,
    /// The temperature to fall below first.
    Cool,
    /// The line cannot be weighed well here.
    Weigh,
    /// Something else about the process.
    Process,
}

impl CautionKind {
    /// The word printed before the advice.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Wear => "Wear",
            Self::Handle => "Mind",
            Self::Wet => "Wet first",
            Self::Cool => "Cool first",
            Self::Weigh => "Too small to weigh",
            Self::Process => "Caution",
        }
    }
}

/// A caution in words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Caution {
    /// Of what sort.
    pub kind: CautionKind,
    /// What to do, without the opening word.
    pub text: String,
}

impl Caution {
    /// A caution of a sort.
    pub fn new(kind: CautionKind, text: impl Into<String>) -> Self {
        Self {
            kind,
            text: text.into(),
        }
    }
}

impl Caution {
    /// What is the matter, and what to do about it: the first sentence, and those that follow.
    pub fn parts(&self) -> (&str, &str) {
        match self.text.split_once(". ") {
            Some((matter, rest)) => (matter, rest),
            None => (&self.text, ""),
        }
    }
}

impl std::fmt::Display for Caution {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.kind.label(), self.text)
    }
}

/// The cautions for the hazards of a material, equipment first, no piece twice.
pub fn cautions(material: &Material) -> Vec<Caution> {
    of_hazards(&material.hazards, heats_with_water(material))
}

fn of_hazards(hazards: &[Hazard], heats: bool) -> Vec<Caution> {
    let mut wear: Vec<&str> = Vec::new();
    let mut handle = Vec::new();
    for &hazard in hazards {
        for piece in equipment(hazard) {
            if !wear.contains(&piece.as_str()) {
                wear.push(piece);
            }
        }
        handle.push(Caution::new(CautionKind::Handle, mind(hazard, heats)));
    }
    // Goggles protect the eyes, and resistant gloves are gloves.
    if wear.contains(&"goggles") {
        wear.retain(|&w| w != "eye protection");
    }
    if wear.contains(&"chemical-resistant gloves") {
        wear.retain(|&w| w != "gloves");
    }
    let mut cautions = Vec::new();
    if !wear.is_empty() {
        cautions.push(Caution::new(CautionKind::Wear, wear.join(", ")));
    }
    cautions.extend(handle);
    cautions
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_caution_begins_with_what_is_the_matter() {
        let small = Caution::new(CautionKind::Weigh, "5 % off. Use 0.02 g. Or pre-mix.");
        assert_eq!(small.parts(), ("5 % off", "Use 0.02 g. Or pre-mix."));
        let short = Caution::new(CautionKind::Wear, "gloves");
        assert_eq!(short.parts(), ("gloves", ""));
    }

    #[test]
    fn the_stronger_equipment_stands_for_the_weaker() {
        for order in [
            [Hazard::Irritant, Hazard::Corrosive],
            [Hazard::Corrosive, Hazard::Irritant],
        ] {
            let found = of_hazards(&order, true);
            assert_eq!(
                found[0]
                    .text
                    .split(", ")
                    .collect::<std::collections::BTreeSet<_>>(),
                ["chemical-resistant gloves", "goggles", "apron"].into()
            );
            assert_eq!(found.len(), 3);
        }
        let handle = |heats| {
            let found = of_hazards(&[Hazard::Corrosive], heats);
            found[1].text.clone()
        };
        assert!(handle(true).contains("add it to water, never water to it"));
        assert!(!handle(false).contains("water to it"));
        assert!(of_hazards(&[], false).is_empty());
    }
}
