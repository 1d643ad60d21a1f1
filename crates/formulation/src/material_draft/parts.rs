//! What a draft of several substances takes over from one of them, and components of an oil.

use super::{ConstituentDraft, MaterialDraft};
use crate::inventory::inventory;
use crate::material::Class;
use crate::oil_parts::{self, LooseParts, PART_OF_THE_OIL, Part, loose_parts};

impl MaterialDraft {
    /// Components that stand beside the oil or fragrance which the material is.
    pub fn loose_parts(&self) -> Option<LooseParts> {
        loose_parts(&self.roles, self.constituents.iter().map(part))
    }

    /// Counts them as parts of the oil: within its weight and not listed by themselves. Nothing
    /// happens where there are none.
    pub fn count_as_parts(&mut self) {
        let Some(loose) = self.loose_parts() else {
            return;
        };
        for place in loose.parts {
            if let Some(one) = self.constituents.get_mut(place) {
                one.class = Some(Class::Fragrance);
                PART_OF_THE_OIL.clone_into(&mut one.incidental);
            }
        }
        if let Some(whole) = self.constituents.get_mut(loose.whole) {
            whole.class = Some(Class::Fragrance);
        }
    }

    /// What is said of such components.
    pub(super) fn of_loose_parts(&self) -> Option<String> {
        let loose = self.loose_parts()?;
        let of = |place: &usize| self.constituents.get(*place);
        let whole = of(&loose.whole)?;
        let parts: Vec<&str> = (loose.parts.iter().filter_map(of))
            .map(|c| c.inci.trim())
            .collect();
        Some(oil_parts::words(
            whole.inci.trim(),
            whole.typical.trim(),
            &parts,
        ))
    }

    /// What is said where the roles of a material of several substances are those that the public
    /// inventory gives for one of them.
    pub(super) fn of_roles_taken_over(&self) -> Option<String> {
        if self.roles.len() < 2 || self.constituents.len() < 2 {
            return None;
        }
        let entries = self.constituents.iter();
        let mut entries = entries.filter_map(|c| inventory().by_name(&c.inci));
        let one = entries.find(|entry| entry.roles() == self.roles)?;
        Some(format!(
            "these are the roles that the public inventory gives for {} alone; choose what the whole material does",
            one.label_name()
        ))
    }
}

fn part(c: &ConstituentDraft) -> Part<'_> {
    Part {
        inci: c.inci.trim(),
        class: c.class.unwrap_or(Class::Other),
        listed: c.incidental.trim().is_empty(),
    }
}
