//! What a row says, held against one material: its INCI names, CAS number, strength, form and
//! supplier.

use super::{
    How, Known, NOTABLE, Resolver, Unsure, Wanted, carrier, form_among, form_key, form_of,
    list_key, split_brackets,
};
use crate::cas::Cas;
use crate::inventory::inventory;
use crate::material::{Class, Material, MaterialId};
use crate::naming::fold::Folded;
use crate::naming::words::{Form, functions, words};
use crate::naming::{fold, spelling::Spelling, spoken, strength};
use crate::substance_words::without_plant_parts;

/// What a row says, made ready to be held against many materials.
pub(super) struct Said<'w> {
    pub(super) wanted: &'w Wanted,
    pub(super) inci: Vec<String>,
    pub(super) percent: Option<f64>,
    pub(super) form: Option<Form>,
    pub(super) words: Vec<String>,
    /// The materials that it is an everyday name of, the most usual first.
    pub(super) everyday: Vec<&'w Vec<usize>>,
    /// The name in the English words of the shelf, where it names nothing by itself.
    pub(super) english: Vec<String>,
    /// These as a key.
    pub(super) spoken: String,
    /// The name, and where it has a part in brackets what stands before and in them.
    pub(super) forms: Vec<Forms<'w>>,
    /// The name has a part in brackets.
    pub(super) in_brackets: bool,
}

/// A name in every form in which it is looked up.
pub(super) struct Forms<'w> {
    pub(super) text: &'w str,
    pub(super) folded: Folded,
    /// Without form and grade, with the form that it states.
    pub(super) of_form: String,
}

impl<'w> Forms<'w> {
    fn of(text: &'w str) -> Self {
        let folded = Folded::of(text);
        Self {
            text,
            of_form: form_key(&folded.base, form_among(&folded.words)),
            folded,
        }
    }
}

impl Said<'_> {
    /// The name without strength, form and grade.
    fn base(&self) -> String {
        let whole = self.forms.first();
        whole.map_or_else(String::new, |forms| forms.folded.base.clone())
    }

    pub(super) fn everyday_rank(&self, place: usize) -> usize {
        self.everyday
            .iter()
            .filter_map(|places| places.iter().position(|p| *p == place))
            .min()
            .unwrap_or(usize::MAX)
    }
}

/// A material held against a row.
#[derive(Debug)]
pub(super) struct Weighed {
    pub(super) how: How,
    pub(super) place: usize,
    /// What contradicts it.
    pub(super) against: Vec<String>,
    /// What leaves it open.
    pub(super) soft: Vec<String>,
    /// It is another mirror form of the substance than the name says.
    pub(super) mirrored: bool,
    /// Numbers that stand in the name of the row and in its own: "HLB 15".
    pub(super) numbers: usize,
    pub(super) rank: Rank,
}

impl Default for Weighed {
    fn default() -> Self {
        Self {
            how: How::Words,
            place: 0,
            against: vec![String::new()],
            soft: Vec::new(),
            mirrored: false,
            numbers: 0,
            rank: Rank {
                against: true,
                other_form: true,
                other_form_word: true,
                partly: true,
                how: How::Words,
                elsewhere: true,
                listed: 0,
                words_not_shared: usize::MAX,
                words: 0,
                letters: 0,
                id: MaterialId::from_name(""),
            },
        }
    }
}

/// What a row says against a material, and what it leaves open.
#[derive(Default)]
struct Held {
    against: Vec<String>,
    soft: Vec<String>,
}

impl Held {
    fn inci(&mut self, how: How, inci: &[String], known: &Known<'_>) {
        let Some(told) = inci_against(inci, known) else {
            return;
        };
        // What goes by the name and is of another part of the same plant is asked about.
        let by_name = how <= How::Order || how == How::Everyday;
        if by_name && is_of_another_part(inci, known) {
            self.soft.push(format!(
                "{told}, but the like of another part of the plant is"
            ));
        } else {
            self.against.push(told);
        }
    }

    fn cas(&mut self, said: &Said<'_>, known: &Known<'_>) {
        let Some(cas) = said.wanted.cas else {
            return;
        };
        let material = known.material;
        match cas_fits(cas, known) {
            Some(false) => self
                .against
                .push(format!("CAS {cas} is that of another substance")),
            None if said.inci.is_empty() && !material.constituents.is_empty() => {
                self.soft.push(format!(
                    "CAS {cas} is not known to be that of “{}”",
                    material.name
                ));
            }
            _ => {}
        }
    }

    fn strength(&mut self, how: How, said: &Said<'_>, material: &Material) {
        // A name that is the same needs no strength in it to agree with its composition.
        if let Some(percent) = said.percent
            && (how != How::Name || said.wanted.percent_beside().is_some())
        {
            match strength::fits(material, percent) {
                Some(false) => self
                    .against
                    .push(format!("it is not of {} %", shown(percent))),
                Some(true) => self
                    .soft
                    .extend(strength::by_solids_alone(material, percent)),
                None => self
                    .soft
                    .push(format!("the strength of “{}” is not known", material.name)),
            }
        }
        self.soft.extend(two_strengths(said.wanted, material));
    }

    fn form(&mut self, how: How, form: Option<Form>, known: &Known<'_>) {
        if how <= How::Synonym {
            return;
        }
        let fluid = || {
            let solid = form == Some(Form::Solid) && is_fluid(known);
            solid.then_some("it is no powder or solid")
        };
        let told = form_against(form, known.form).or_else(fluid);
        self.against.extend(told.map(str::to_owned));
    }

    /// Whether the two are named as different mirror forms of a substance.
    fn mirror_form(&mut self, said: &[String], own: &[String]) -> bool {
        let (Some(said), Some(own)) = (isomer(said), isomer(own)) else {
            return false;
        };
        if said != own {
            self.against
                .push(format!("the name says {said}-, and it is {own}-"));
        }
        said != own
    }
}

/// The order of materials weighed: what nothing contradicts, then the surest way, then
/// the supplier named, then most words shared, then the plainest name.
#[derive(PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Rank {
    pub(super) against: bool,
    pub(super) other_form: bool,
    /// The row says "powder" and the name of the material "flakes".
    pub(super) other_form_word: bool,
    /// Only a part of the name is its, though all of it is that of others.
    pub(super) partly: bool,
    pub(super) how: How,
    pub(super) elsewhere: bool,
    pub(super) listed: usize,
    pub(super) words_not_shared: usize,
    pub(super) words: usize,
    pub(super) letters: usize,
    pub(super) id: MaterialId,
}

pub(super) fn shown(percent: f64) -> String {
    format!("{percent:.2}")
        .trim_end_matches('0')
        .trim_end_matches('.')
        .to_owned()
}

impl Resolver<'_> {
    /// Holds what a row says against one material.
    pub(super) fn weigh(&self, how: How, place: usize, said: &Said<'_>) -> Weighed {
        let Said {
            wanted,
            inci,
            percent,
            form,
            ..
        } = said;
        let (wanted, percent, form) = (*wanted, *percent, *form);
        let Some(known) = self.known.get(place) else {
            return Weighed::default();
        };
        let material = known.material;
        // The strength stated tells it from the others of its substance.
        let how = match (how, percent) {
            (How::MainInci | How::Base | How::Everyday, Some(p))
                if strength::fits(material, p) == Some(true) =>
            {
                How::Strength
            }
            _ => how,
        };
        let mut held = Held::default();
        held.inci(how, inci, known);
        held.cas(said, known);
        held.strength(how, said, material);
        held.form(how, form, known);
        let mirrored = held.mirror_form(&said.words, &known.words);
        held.soft.extend(self.left_open(how, known, place, said));
        let Held { against, soft } = held;
        let supplier = wanted.supplier.trim();
        let of_supplier = !supplier.is_empty()
            && material
                .supplier
                .as_deref()
                .is_some_and(|s| fold::plain(s) == fold::plain(supplier));
        let shared = said
            .words
            .iter()
            .filter(|w| known.words.contains(w))
            .count();
        let is_number = |w: &&String| w.bytes().all(|b| b.is_ascii_digit());
        let numbers = said.words.iter().filter(is_number);
        let numbers = numbers.filter(|w| known.words.contains(w)).count();
        // The maker's own jar of a supplier comes before the generic one.
        let rank = Rank {
            against: !against.is_empty(),
            // "Panthenol powder" is the powder before any other panthenol.
            other_form: how > How::Order && form.is_some() && known.form != form,
            other_form_word: has_other_form_word(&said.words, &known.words),
            partly: said.in_brackets && !self.goes_by(place, &wanted.name),
            how,
            elsewhere: !of_supplier,
            // The most usual of several that an everyday name means.
            listed: said.everyday_rank(place),
            words_not_shared: usize::MAX - shared,
            words: material.name.split_whitespace().count(),
            letters: material.name.len(),
            id: material.id.clone(),
        };
        Weighed {
            how,
            place,
            against,
            soft,
            mirrored,
            numbers,
            rank,
        }
    }

    /// What a row that names a material leaves open about it: its strength, its form, what it
    /// is in, or that the name may be another's.
    fn left_open(
        &self,
        how: How,
        known: &Known<'_>,
        place: usize,
        said: &Said<'_>,
    ) -> Option<String> {
        let name = &said.wanted.name;
        let has_strength = said.percent.is_some() || states_number(name);
        let told_apart = has_strength || said.form.is_some();
        let spoken = || self.unsure.get(&(said.spoken.clone(), place));
        let unsure = match self.unsure.get(&(said.base(), place)).or_else(spoken) {
            Some(Unsure::Always) => true,
            Some(Unsure::ButForStrength) => !told_apart,
            None => false,
        };
        // An INCI name of its own column that is no other's says which it is.
        let told = !said.wanted.inci.trim().is_empty() && {
            let key = list_key(said.inci.iter().map(String::as_str));
            let all = self.lists.get(&key);
            all.is_some_and(|all| all.as_slice() == [place])
        };
        if how > How::Synonym && unsure && !told {
            return Some(format!("“{}” may be another material as well", name.trim()));
        }
        let by_columns = !said.wanted.inci.trim().is_empty() || said.wanted.cas.is_some();
        if how == How::Name || how == How::Chosen || by_columns {
            return None;
        }
        let material = known.material;
        if strength::is_left_open(material) && !has_strength && how != How::Order {
            return Some("its strength is not stated".to_owned());
        }
        if let Some((_, carrier)) = carrier(&material.name)
            && !has_strength
            && known
                .main
                .as_ref()
                .is_some_and(|(_, share)| *share < strength::THIN)
        {
            let english = spoken::english(&said.wanted.name);
            let says = |w: &String| (said.words.contains(w) || english.contains(w)) && !is_sort(w);
            if !fold::spelt_out(carrier).iter().any(says) {
                return Some(format!("the row does not say that it is in {carrier}"));
            }
        }
        (how == How::Base && known.form == Some(Form::Solid) && said.form.is_none())
            .then(|| "the row does not say whether it is a powder".to_owned())
    }

    /// What a row says, made ready to be held against many materials.
    pub(super) fn said<'w>(&'w self, wanted: &'w Wanted) -> Said<'w> {
        let (outer, inner) = split_brackets(&wanted.name);
        // What is a name as a whole is no list of INCI names in brackets.
        let forms: Vec<Forms<'w>> = [wanted.name.as_str(), outer, inner]
            .into_iter()
            .take(if inner.is_empty() { 1 } else { 3 })
            .map(Forms::of)
            .collect();
        let named = |forms: &Forms<'_>| self.names.contains_key(&forms.folded.plain);
        let whole = wanted.inci.trim().is_empty() && forms.first().is_some_and(named);
        let words = forms.first().map(|forms| forms.folded.words.clone());
        Said {
            wanted,
            inci: if whole {
                Vec::new()
            } else {
                wanted.inci_names()
            },
            percent: wanted.percent(),
            form: form_of(&wanted.name).or_else(|| form_of(&wanted.strength)),
            words: words.unwrap_or_default(),
            english: Vec::new(),
            spoken: String::new(),
            everyday: forms
                .iter()
                .filter(|forms| !forms.text.is_empty())
                .flat_map(|forms| {
                    [
                        self.everyday.get(&forms.folded.sorted),
                        self.everyday.get(&forms.folded.glued),
                        self.everyday_of_form.get(&forms.of_form),
                    ]
                })
                .flatten()
                .collect(),
            forms,
            in_brackets: !inner.is_empty(),
        }
    }
}

/// What is to be asked where a name states one strength and the column beside it another,
/// unless a material has both, as one of 30 % that is active in 38 % that is solid.
fn two_strengths(wanted: &Wanted, material: &Material) -> Option<String> {
    let (beside, within) = (wanted.percent_beside()?, strength::stated(&wanted.name)?);
    let has = |percent| strength::fits(material, percent) == Some(true);
    let one = (beside - within).abs() <= strength::SLACK || has(beside) && has(within);
    (!one).then(|| {
        format!(
            "the name says {} % and the column beside it {} %",
            shown(within),
            shown(beside)
        )
    })
}

/// Which mirror form of a substance a name says it is: "D-Panthenol", "DL-Menthol"; the letter
/// of a vitamin is none.
fn isomer(name: &[String]) -> Option<&str> {
    let place = name
        .iter()
        .position(|word| words().isomers.contains(word))?;
    let before = place.checked_sub(1).and_then(|at| name.get(at));
    let named = name.get(place + 1).is_some_and(|next| next.len() > 1);
    let of_vitamin = before.is_some_and(|word| word.starts_with("vitamin"));
    let word = name.get(place)?.as_str();
    (named && !of_vitamin).then_some(word)
}

/// Whether a number of two digits stands in a name, as in "BTMS 50" and "T50".
fn states_number(name: &str) -> bool {
    let bytes = name.as_bytes();
    bytes
        .windows(2)
        .any(|two| two.iter().all(u8::is_ascii_digit))
}

/// Whether a word says only of which sort something is: "oil", "wax".
fn is_sort(word: &str) -> bool {
    functions().iter().any(|(phrase, _)| phrase == word)
}

/// Whether a material flows: an oil, a solution.
fn is_fluid(known: &Known<'_>) -> bool {
    let main = known.material.main_constituent().map(|c| c.class);
    // Flakes hold a little water and stay flakes.
    known.form != Some(Form::Solid) && strength::is_solution(known.material)
        || known.form != Some(Form::Solid) && known.words.iter().any(|w| w == "oil")
        || matches!(main, Some(Class::Fragrance | Class::Solvent))
            && known.form != Some(Form::Solid)
            && !known.words.iter().any(|w| words().forms.contains_key(w))
            && known.listed.len() > 1
}

pub(super) fn form_against(wanted: Option<Form>, known: Option<Form>) -> Option<&'static str> {
    match (wanted?, known?) {
        (a, b) if a == b => None,
        (Form::Solid, _) => Some("it is no powder or solid"),
        (Form::Liquid, Form::Solid) => Some("it is no liquid"),
        (Form::Liquid, _) => None,
        (Form::Paste, _) => Some("it is no paste"),
    }
}

/// What a list of INCI names says against a material: a name that is not in it, or a
/// large part of it that is not in the list.
pub(super) fn inci_against(inci: &[String], known: &Known<'_>) -> Option<String> {
    inci_against_by(inci, known, |name| name)
}

/// The same, names compared by what `key` makes of them.
fn inci_against_by(
    inci: &[String],
    known: &Known<'_>,
    key: impl Fn(String) -> String,
) -> Option<String> {
    let folded = |name: &str| key(fold::inci(name));
    let names: Vec<String> = inci
        .iter()
        .map(|n| folded(n))
        .filter(|n| !n.is_empty())
        .collect();
    if names.is_empty() || known.material.constituents.is_empty() {
        return None;
    }
    let all: Vec<String> = known.all.iter().map(|own| key(own.clone())).collect();
    let alike = |one: &str, other: &str| {
        one == other || Spelling::of(one).edits_to(&Spelling::of(other)).is_some()
    };
    let has = |name: &String| all.iter().any(|own| alike(name, own));
    if let Some((_, written)) = names
        .iter()
        .zip(inci)
        .find(|(name, _)| *name != "aqua" && !has(name))
    {
        return Some(format!("INCI “{}” is not in it", written.trim()));
    }
    if names.iter().all(|n| n == "aqua") && !known.listed.is_empty() {
        return Some("INCI “Aqua” names only its water".to_owned());
    }
    let missing = known.material.constituents.iter().find(|c| {
        let own = folded(c.inci.spelling());
        c.incidental.is_none()
            && c.share.typical.value() >= NOTABLE
            && own != "aqua"
            && !names.iter().any(|n| alike(n, &own))
    });
    missing.map(|c| format!("it holds {} too, which the INCI names leave out", c.inci))
}

/// Whether the INCI names fit but for the part of the plant that they state.
fn is_of_another_part(inci: &[String], known: &Known<'_>) -> bool {
    inci_against_by(inci, known, |name| without_plant_parts(&name)).is_none()
}

/// Whether a CAS number is that of something in a material; `None` if nobody knows.
pub(super) fn cas_fits(cas: Cas, known: &Known<'_>) -> Option<bool> {
    if known
        .material
        .constituents
        .iter()
        .any(|c| c.cas == Some(cas))
    {
        return Some(true);
    }
    let mut of_others = false;
    for entry in inventory().by_cas(cas) {
        if known.all.contains(&fold::inci(entry.name)) {
            return Some(true);
        }
        of_others = true;
    }
    (of_others && !known.material.constituents.is_empty()).then_some(false)
}

/// Whether two names say in what form the material comes, and not in the same word.
fn has_other_form_word(asked: &[String], known: &[String]) -> bool {
    let forms = |all: &'_ [String]| -> Vec<String> {
        let is_form = |w: &&String| words().forms.contains_key(*w);
        all.iter().filter(is_form).cloned().collect()
    };
    let (asked, known) = (forms(asked), forms(known));
    !asked.is_empty() && !known.is_empty() && !asked.iter().any(|w| known.contains(w))
}
