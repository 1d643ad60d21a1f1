//! What of the materials weighed is taken, and what makes it a question.

use std::collections::HashSet;

use super::evidence::Weighed;
use super::{
    Candidate, How, Known, MOST, Places, Resolution, Resolver, Wanted, form_of, list_key,
    split_brackets,
};
use crate::inventory::inventory;
use crate::material::{MaterialId, Sourced};
use crate::naming::words::{functions, words};
use crate::naming::{blend, fold, spoken, strength};
use crate::shelf::built_in;

/// The value of a figure with its source, exactly as it is stated.
fn figure(stated: Option<&Sourced<f64>>) -> Option<u64> {
    stated.map(|s| s.value.to_bits())
}

/// Of a substance in two mirror forms the one that is said is perhaps not that of the shelf,
/// unless a strength tells which it is.
fn mirror_form(weighed: &[Weighed], best: &Weighed) -> Option<String> {
    let other = weighed.iter().any(|w| w.mirrored);
    (other && best.how > How::Synonym)
        .then(|| "another mirror form of it is on the shelf too".to_owned())
}

impl Resolver<'_> {
    /// What of the materials weighed is taken, and what makes it a question.
    pub(super) fn judge(
        &self,
        weighed: &[Weighed],
        wanted: &Wanted,
        percent: Option<f64>,
    ) -> Resolution {
        let candidates: Vec<Candidate> = weighed
            .iter()
            .filter_map(|w| {
                let material = self.known.get(w.place)?.material;
                Some(Candidate {
                    id: material.id.clone(),
                    name: material.name.clone(),
                    how: w.how,
                    against: w.against.join(", "),
                })
            })
            .collect();
        let mut resolution = Resolution {
            candidates,
            ..Resolution::default()
        };
        let (Some(best), Some(name)) = (
            weighed.first(),
            resolution.candidates.first().map(|c| c.name.clone()),
        ) else {
            return resolution;
        };
        if !best.against.is_empty() {
            let told = format!(
                "“{}” would be “{name}” ({}), but {}",
                wanted.name,
                best.how.label(),
                best.against.join(" and ")
            );
            resolution.doubts.push(told);
            return resolution;
        }
        resolution.taken = best.how.is_taken();
        resolution.doubts.clone_from(&best.soft);
        let doubts = [
            self.named_otherwise(weighed, best),
            self.rivals_or_strength(weighed, (wanted, percent)),
            wanted
                .name
                .contains(" + ")
                .then(|| "“+” may mean two materials with one amount".to_owned()),
            self.water_by_inci_alone(wanted, best),
            percent
                .is_none()
                .then(|| mirror_form(weighed, best))
                .flatten(),
        ];
        resolution.doubts.extend(doubts.into_iter().flatten());
        let others = self.others_but_for_a_word(wanted, best);
        self.offer_as_well(&others, &mut resolution);
        if let Some(rest) = self.overlooked(wanted, best.place) {
            resolution.doubts.push(format!(
                "“{rest}” beside the name may make it another material"
            ));
        }
        if name.contains(&words().stand_in) && best.how != How::Name {
            resolution
                .doubts
                .push("it stands for a material of your own".to_owned());
        }
        if best.how.is_doubtful() && resolution.doubts.is_empty() {
            resolution.doubts.push(best.how.label().to_owned());
        }
        resolution
    }

    /// Asks whether one of some others is meant.
    fn offer_as_well(&self, others: &[usize], resolution: &mut Resolution) {
        let materials = others.iter().filter_map(|place| self.known.get(*place));
        let materials: Vec<_> = materials.map(|known| known.material).collect();
        let names: Vec<&str> = materials.iter().map(|m| &*m.name).collect();
        if names.is_empty() {
            return;
        }
        let told = format!("“{}” would fit as well", names.join("”, “"));
        resolution.doubts.push(told);
        let named = |id: &MaterialId, all: &[Candidate]| all.iter().any(|c| c.id == *id);
        for (n, material) in materials.into_iter().enumerate() {
            if !named(&material.id, &resolution.candidates) {
                let candidate = Candidate {
                    id: material.id.clone(),
                    name: material.name.clone(),
                    how: How::Words,
                    against: String::new(),
                };
                let at = (n + 1).min(resolution.candidates.len());
                resolution.candidates.insert(at, candidate);
            }
        }
    }

    /// With one word more the name would be that of the best, and with another one that of others:
    /// "Chamomile essential oil" of the German and of the Roman one. Data say which is meant where
    /// it is a name by itself.
    fn others_but_for_a_word(&self, wanted: &Wanted, best: &Weighed) -> Vec<usize> {
        let by_columns = !wanted.inci.trim().is_empty() || wanted.cas.is_some();
        let open = matches!(best.how, How::Everyday | How::Base | How::Strength);
        let bare = || fold::kept(&wanted.name).join(" ");
        if by_columns
            || !open
            || self.is_called(best.place, &wanted.name)
            || self.is_called(best.place, &bare())
        {
            return Vec::new();
        }
        let key = spoken::key(&spoken::english(&wanted.name));
        let (Some(alike), Some(known)) =
            (self.but_for_a_word.get(&key), self.known.get(best.place))
        else {
            return Vec::new();
        };
        // "Urea powder" is urea, whatever else has that word.
        if spoken::key(&spoken::english(&known.material.name)) == key {
            return Vec::new();
        }
        let is_other = |place: &usize| {
            self.known
                .get(*place)
                .is_some_and(|other| other.main != known.main)
        };
        let others = alike.iter().copied().filter(is_other);
        others.take(MOST - 1).collect()
    }

    /// The name means another one, and something else in the row speaks against that.
    fn named_otherwise(&self, weighed: &[Weighed], best: &Weighed) -> Option<String> {
        if best.how <= How::Order || best.how == How::Strength {
            return None;
        }
        let by_name = |w: &Weighed| w.how <= How::Order || w.rank.listed != usize::MAX;
        let other = weighed
            .iter()
            .filter(|w| !w.against.is_empty())
            .find(|w| w.how <= How::Order || by_name(w) && !by_name(best))?;
        let known = self.known.get(other.place)?;
        Some(format!(
            "the name is that of “{}”, but {}",
            known.material.name,
            other.against.join(" and ")
        ))
    }

    /// Others would fit as well as the best, or a strength is wanting that would tell them apart.
    fn rivals_or_strength(
        &self,
        weighed: &[Weighed],
        (wanted, percent): (&Wanted, Option<f64>),
    ) -> Option<String> {
        let (best, others) = weighed.split_first()?;
        // INCI names that only repeat the name say nothing more.
        let by_name_only =
            wanted.inci.trim().is_empty() || fold::inci(&wanted.inci) == fold::inci(&wanted.name);
        let rivals: Vec<&str> = others
            .iter()
            .filter(|w| w.against.is_empty() && self.rivals(best, w, by_name_only))
            .filter_map(|w| Some(&*self.known.get(w.place)?.material.name))
            .collect();
        if !rivals.is_empty() {
            return Some(format!("“{}” would fit as well", rivals.join("”, “")));
        }
        // The CAS number is that of the substance in water as well.
        let of_solution = best.how == How::Cas
            && percent.is_none()
            && form_of(&wanted.name).is_none()
            && others.iter().any(|w| self.is_plainer(best.place, w.place));
        let of_family = matches!(best.how, How::Base | How::Inci)
            && percent.is_none()
            && wanted.percent().is_none()
            && !self.is_whole(best.place)
            && !self.goes_by(best.place, &wanted.name);
        (of_solution || of_family).then(|| "its strength is not stated".to_owned())
    }

    /// The water of a blend is often the first of its INCI names.
    fn water_by_inci_alone(&self, wanted: &Wanted, best: &Weighed) -> Option<String> {
        let known = self.known.get(best.place)?;
        let is_water = known.listed.is_empty() && known.all.contains("aqua");
        let by_inci = best.how >= How::Inci
            && !fold::says_water(&wanted.name)
            && !self.goes_by(best.place, &wanted.name);
        (is_water && by_inci).then(|| "only its INCI name says that it is water".to_owned())
    }

    /// What stands before or in brackets and was not needed to find a material, if it says
    /// more than quality, form and purpose: "infused with calendula" behind "Olive oil".
    pub(super) fn overlooked<'w>(&self, wanted: &'w Wanted, place: usize) -> Option<&'w str> {
        let name = wanted.name.as_str();
        let (outer, inner) = split_brackets(name);
        if inner.is_empty() || blend::is_list(name) || self.goes_by(place, name) {
            return None;
        }
        let rest = match (self.goes_by(place, outer), self.goes_by(place, inner)) {
            (true, false) => inner.trim(),
            // Its INCI name in brackets says what it is.
            (false, true)
                if inventory().by_name(inner).is_some() && fold::inci(inner) != "aqua" =>
            {
                return None;
            }
            (false, true) => outer.trim(),
            _ => return None,
        };
        let known = self.known.get(place)?;
        let names = std::iter::once(&known.material.name).chain(&known.material.synonyms);
        let own: HashSet<String> = names
            .chain(known.material.constituents.iter().map(|c| c.inci.shared()))
            .flat_map(|text| fold::spelt_out(text))
            .chain(self.everyday_words(place))
            .chain(fold::spelt_out(&wanted.supplier))
            .collect();
        let lists = words();
        let says_nothing = |word: &String| {
            word.chars().all(|c| c.is_ascii_digit())
                || lists.grade.contains(word)
                || lists.forms.contains_key(word)
                || lists.aside.contains(word)
                || lists.effect.contains(word)
                || lists.needed.contains(word)
                || own.contains(word)
                || functions()
                    .iter()
                    .any(|(phrase, _)| phrase.split(' ').any(|w| w == word))
        };
        let all = fold::spelt_out(&strength::without(rest));
        (!all.iter().all(says_nothing)).then_some(rest)
    }

    /// The words of the everyday names of a material.
    pub(super) fn everyday_words(&self, place: usize) -> impl Iterator<Item = String> {
        let id = self.known.get(place).map(|k| k.material.id.as_str());
        built_in::plain_names()
            .iter()
            .filter(move |name| name.materials.iter().any(|m| Some(m.as_str()) == id))
            .flat_map(|name| fold::spelt_out(&name.name))
    }

    /// Whether a text is by itself a name of a material, an INCI name or the list of all of
    /// its INCI names.
    pub(super) fn goes_by(&self, place: usize, text: &str) -> bool {
        let has = |map: &Places, key: String| map.get(&key).is_some_and(|all| all.contains(&place));
        has(&self.names, fold::plain(text))
            || has(&self.synonyms, fold::plain(text))
            || has(&self.sorted, fold::sorted(text))
            || has(&self.sorted, fold::glued(text))
            || has(&self.everyday, fold::sorted(text))
            || has(&self.everyday_base, fold::base(text))
            || has(&self.everyday, fold::glued(text))
            || has(&self.bases, fold::base(text))
            || has(&self.mains, fold::inci(text))
            || has(
                &self.lists,
                list_key(blend::parts(text).iter().map(String::as_str)),
            )
    }

    /// Whether a text is a name, synonym or everyday name of a material as it stands, its words in
    /// any order.
    fn is_called(&self, place: usize, text: &str) -> bool {
        let (sorted, glued) = (fold::sorted(text), fold::glued(text));
        let maps = [&self.sorted, &self.everyday];
        maps.into_iter().any(|map| {
            [&sorted, &glued]
                .into_iter()
                .any(|key| map.get(key).is_some_and(|all| all.contains(&place)))
        })
    }

    /// Whether a material is one substance or a fixed blend, so that it has no other
    /// strengths.
    pub(super) fn is_whole(&self, place: usize) -> bool {
        self.known.get(place).is_some_and(|k| {
            // Components of an oil and the moisture of a powder are parts of it.
            let parts = k
                .material
                .constituents
                .iter()
                .filter(|c| c.incidental.is_some());
            let parts: f64 = parts.map(|c| c.share.typical.value()).sum();
            k.listed.len() != 1
                || k.main
                    .as_ref()
                    .is_none_or(|(_, share)| *share + parts >= strength::NEARLY_PURE)
        })
    }

    /// Whether another material fits a row as well as the best: found in the same way, or
    /// as another strength where none is stated.
    pub(super) fn rivals(&self, best: &Weighed, other: &Weighed, by_name: bool) -> bool {
        if best.rank.elsewhere != other.rank.elsewhere {
            return false;
        }
        if !best.rank.other_form_word && other.rank.other_form_word {
            return false;
        }
        if best.numbers > other.numbers {
            return false;
        }
        // "Betaine (trimethylglycine)" names the one as a whole.
        if !best.rank.partly && other.rank.partly {
            return false;
        }
        // Makers who say the name usually mean another one than the one whose INCI name it
        // is: "panthenol".
        let usual = by_name && best.how > How::Synonym && other.rank.listed < best.rank.listed;
        if usual {
            return !self.same_content(best.place, other.place);
        }
        let unsure = |how: How| {
            matches!(
                how,
                How::Base | How::MainInci | How::Strength | How::Everyday
            )
        };
        // The pure substance is meant where no strength is stated, and a list of INCI
        // names is the material that has those and no others.
        let both_named = best.rank.listed != usize::MAX && other.rank.listed != usize::MAX;
        let plainer = self.is_plainer(best.place, other.place)
            && !(both_named && self.is_much_weaker(other.place, best.place));
        // Beside INCI names, an everyday name tells two of the same apart.
        let everyday = !by_name
            && best.rank.listed != usize::MAX
            && other.rank.listed == usize::MAX
            && best.how >= How::Inci
            && best.how != How::Everyday;
        if plainer || everyday {
            return false;
        }
        let both_listed = best.rank.listed != usize::MAX && other.rank.listed != usize::MAX;
        // A synonym that is an everyday name of several, as "Vitamin E" of two strengths.
        let one_of_several = both_listed
            && (by_name && matches!(best.how, How::Order | How::Inci) || best.how == How::Synonym);
        let alike = one_of_several
            || best.how == other.how
            || unsure(best.how) && unsure(other.how) && other.how <= best.how.max(How::Base);
        // The name decides between two of the same INCI name if it has more of its words.
        let told_apart = best.how >= How::Inci
            && !(by_name && both_listed)
            && best.rank.words_not_shared < other.rank.words_not_shared
            && self.known.get(best.place).map(|k| &k.main)
                != self.known.get(other.place).map(|k| &k.main);
        alike && !told_apart && !self.same_content(best.place, other.place)
    }

    /// Whether one material is the substance itself and another it with something more,
    /// such as water, oil or a scent.
    pub(super) fn is_plainer(&self, a: usize, b: usize) -> bool {
        let (Some(a), Some(b)) = (self.known.get(a), self.known.get(b)) else {
            return false;
        };
        let pure = |k: &Known<'_>| {
            k.listed.len() <= 1
                && k.main
                    .as_ref()
                    .is_some_and(|(_, share)| *share >= strength::NEARLY_PURE)
        };
        let same = match (&a.main, &b.main) {
            (Some((a, _)), Some((b, _))) => a == b,
            _ => false,
        };
        // The water of a crystal is bound: a hydrate is another material, not a dilution.
        let more = |k: &Known<'_>| {
            k.listed.len() > 1
                || k.material
                    .constituents
                    .iter()
                    .any(|c| c.incidental.is_none() && fold::inci(c.inci.spelling()) == "aqua")
        };
        // A strong solution is no pure substance.
        same && pure(a) && !strength::is_solution(a.material) && !pure(b) && more(b)
    }

    /// Whether a material holds less than a third of its substance than another of it: nobody
    /// may take the one for the other where a name means both.
    fn is_much_weaker(&self, weak: usize, strong: usize) -> bool {
        let share = |place: usize| {
            self.known
                .get(place)?
                .main
                .as_ref()
                .map(|(_, share)| *share)
        };
        matches!((share(weak), share(strong)), (Some(weak), Some(strong)) if weak * 3.0 < strong)
    }

    pub(super) fn same_content(&self, a: usize, b: usize) -> bool {
        match (self.known.get(a), self.known.get(b)) {
            (Some(a), Some(b)) => {
                // A pigment is no UV filter, though the substance is the same.
                !a.material.constituents.is_empty()
                    && a.material.constituents == b.material.constituents
                    && a.material.roles == b.material.roles
                    && figure(a.material.hlb.as_ref()) == figure(b.material.hlb.as_ref())
            }
            _ => false,
        }
    }
}
