//! Which material of the shelf a row means, weighed by everything the row says.

mod aside;
mod evidence;
mod judge;
mod likely;
mod wanted;

use std::collections::{BTreeSet, HashMap};
use std::sync::{Arc, Mutex, OnceLock};
use std::thread;

use evidence::{Said, Weighed, form_against};
pub use wanted::{Candidate, How, Wanted};

use super::words::{Form, words};
use super::{blend, fold, known, spelling::Spelling, spoken, strength};
use crate::cas::Cas;
use crate::inci::Inci;
use crate::inventory::inventory;
use crate::material::{Constituent, Material};
use crate::notation::plain_names::PlainName;
use crate::search::{Heard, MaterialIndex};
use crate::shelf::Shelf;
use crate::shelf::built_in;

/// What a row means, as far as it tells.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Resolution {
    /// Materials it may mean, the likeliest first.
    pub candidates: Vec<Candidate>,
    /// The one taken unless the maker says otherwise; always the first candidate.
    pub taken: bool,
    /// What makes it a question, in words; empty if nothing does.
    pub doubts: Vec<String>,
}

/// What a row means, before and after the slow search for misspelt and similar names.
#[derive(Clone, PartialEq, Debug)]
pub enum Resolved {
    /// It is found without that search.
    Known(Resolution),
    /// It is not: what is known without it, and with it if it was made.
    Open(Resolution, Option<Resolution>),
}

/// Most candidates listed for a name.
const MOST: usize = 6;
/// A substance of at least this share of 1 must not be missing from a list of INCI names
/// that is to be the same material.
const NOTABLE: f64 = 0.1;

/// A material made ready to be weighed.
#[derive(Debug)]
struct Known<'s> {
    material: &'s Arc<Material>,
    /// INCI names that are ingredients, folded, without water.
    listed: BTreeSet<String>,
    /// Everything in it, folded.
    all: BTreeSet<String>,
    /// Its largest substance besides water.
    main: Option<(String, f64)>,
    form: Option<Form>,
    /// The words of its name, spelt out.
    words: Vec<String>,
    /// The words of its name without strength, form and grade.
    base: Vec<String>,
}

/// The INCI names that are ingredients, folded, without water.
fn listed(material: &Material) -> BTreeSet<String> {
    let names = material.inci_names().map(|n| fold::inci(n.spelling()));
    names.filter(|n| n != "aqua").collect()
}

/// The name of a material parted at the carrier that it is in: "Tocopherol, mixed 50 %" and
/// "sunflower oil".
pub(super) fn carrier(name: &str) -> Option<(&str, &str)> {
    words()
        .carriers
        .iter()
        .find_map(|word| name.split_once(word.as_str()))
}

/// What a material is named for: the largest substance besides water, or the water itself;
/// of one in a carrier that which it is called by.
fn main_of(material: &Material) -> Option<&Constituent> {
    /// Letters in which a name and an INCI name agree: "calendula", "tocopherol".
    const SAME: usize = 6;
    let others = || {
        let all = material.constituents.iter();
        all.filter(|c| c.incidental.is_none() && fold::inci(c.inci.spelling()) != "aqua")
    };
    let largest = |a: &&Constituent, b: &&Constituent| {
        a.share.typical.value().total_cmp(&b.share.typical.value())
    };
    let begins = |word: &String| word.chars().take(SAME).collect::<String>();
    let named = carrier(&material.name).and_then(|(named, _)| {
        let words: Vec<String> = fold::spelt_out(named).iter().map(begins).collect();
        let is_named = |c: &&Constituent| {
            let own = fold::spelt_out(c.inci.spelling());
            own.iter()
                .any(|w| w.chars().count() >= SAME && words.contains(&begins(w)))
        };
        others().filter(is_named).max_by(largest)
    });
    named
        .or_else(|| others().max_by(largest))
        .or_else(|| material.constituents.first())
}

impl<'s> Known<'s> {
    fn of(material: &'s Arc<Material>) -> Self {
        Self {
            listed: listed(material),
            all: material
                .constituents
                .iter()
                .map(|c| fold::inci(c.inci.spelling()))
                .collect(),
            main: main_of(material)
                .map(|c| (fold::inci(c.inci.spelling()), c.share.typical.value())),
            form: form_of(&material.name),
            words: fold::spelt_out(&material.name),
            base: fold::base(&material.name)
                .split(' ')
                .map(str::to_owned)
                .collect(),
            material,
        }
    }
}

/// What the columns beside a name say against a material, in words: INCI names, CAS number or
/// strength of another; `None` if nothing does.
pub fn contradiction(wanted: &Wanted, material: &Arc<Material>) -> Option<String> {
    let known = Known::of(material);
    let inci = blend::parts(&wanted.inci);
    let by_strength = || {
        let percent = wanted.percent_beside()?;
        (strength::fits(material, percent) == Some(false))
            .then(|| format!("it is not of {percent} %"))
    };
    let by_cas = || {
        let cas = wanted.cas?;
        (evidence::cas_fits(cas, &known) == Some(false))
            .then(|| format!("CAS {cas} is that of another substance"))
    };
    evidence::inci_against(&inci, &known)
        .or_else(by_cas)
        .or_else(by_strength)
}

/// When an everyday name does not tell what is meant.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Unsure {
    /// It may be another material of any strength.
    Always,
    /// A strength or form beside it tells which of several it is.
    ButForStrength,
}

type Places = HashMap<String, Vec<usize>>;

/// An everyday name with the keys by which it is found, whatever the shelf.
struct Everyday {
    name: &'static PlainName,
    spoken: String,
    short: String,
    sorted: String,
    glued: String,
    base: String,
    of_form: String,
}

/// Makes ready what names are held against whatever the shelf, on a thread of its own, so that it
/// is there when the file is read.
pub fn make_ready() {
    thread::spawn(|| {
        known::names();
        everyday();
        inventory().make_ready();
    });
}

/// The everyday names, made ready on first use.
fn everyday() -> &'static [Everyday] {
    static EVERYDAY: OnceLock<Vec<Everyday>> = OnceLock::new();
    EVERYDAY.get_or_init(|| {
        let ready = |name: &'static PlainName| {
            let english = spoken::english(&name.name);
            let base = fold::base(&name.name);
            Everyday {
                name,
                spoken: spoken::key(&english),
                short: spoken::short_key(&english),
                sorted: fold::sorted(&name.name),
                glued: fold::glued(&name.name),
                of_form: form_key(&base, form_of(&name.name)),
                base,
            }
        };
        built_in::plain_names().iter().map(ready).collect()
    })
}

/// The names of a shelf, ready to be matched.
#[derive(Debug)]
pub struct Resolver<'s> {
    shelf: &'s Shelf,
    known: Vec<Known<'s>>,
    by_id: HashMap<&'s str, usize>,
    names: Places,
    synonyms: Places,
    everyday: Places,
    /// Everyday names without strength and grade, with the form that they state.
    everyday_of_form: Places,
    /// The same whatever the form.
    everyday_base: Places,
    /// By their words in order, and by these as one.
    sorted: Places,
    bases: Places,
    /// By what stands before the name of what a material is in, where a strength stands there:
    /// "Behentrimonium chloride 80 %" is that in isopropyl alcohol.
    in_carriers: Places,
    /// By the English words of everyday names, whatever language they are in.
    spoken: Places,
    /// The same of names and synonyms, without strength and form.
    spoken_base: Places,
    /// The same of all of them, without what makers leave out.
    spoken_short: Places,
    /// The same of names and synonyms, without one of their words.
    but_for_a_word: Places,
    lists: Places,
    /// Lists without the water that is in them.
    dry_lists: Places,
    mains: Places,
    cas: HashMap<Cas, Vec<usize>>,
    /// By the CAS number of what it is named for, where it holds much else.
    cas_of_main: HashMap<Cas, Vec<usize>>,
    /// Everyday names by which a material may be meant, but another one as well.
    unsure: HashMap<(String, usize), Unsure>,
    /// The shortest first.
    spellings: Vec<(Spelling, How, usize)>,
    /// The same of names without strength and form.
    bare_spellings: Vec<(Spelling, How, usize)>,
    index: MaterialIndex,
    /// The words that the index was asked for, apart for each thread that asks.
    heard: Mutex<Vec<Heard>>,
}

fn add(map: &mut Places, key: String, place: usize) {
    if !key.is_empty() {
        let places = map.entry(key).or_default();
        if !places.contains(&place) {
            places.push(place);
        }
    }
}

/// The folded names of a list as one key.
fn list_key<'n>(names: impl IntoIterator<Item = &'n str>) -> String {
    let mut names: Vec<String> = names.into_iter().map(fold::inci).collect();
    names.sort_unstable();
    names.dedup();
    names.join("|")
}

/// A name without form and the form that it states as one key.
fn form_key(base: &str, form: Option<Form>) -> String {
    match form {
        Some(form) if !base.is_empty() => format!("{base} in form {form:?}"),
        _ => base.to_owned(),
    }
}

fn form_of(name: &str) -> Option<Form> {
    form_among(&fold::spelt_out(name))
}

fn form_among(spelt_out: &[String]) -> Option<Form> {
    let mut words_of_form = spelt_out.iter();
    words_of_form.find_map(|w| words().forms.get(w).copied())
}

impl<'s> Resolver<'s> {
    /// Prepares a shelf.
    pub fn new(shelf: &'s Shelf) -> Self {
        let mut resolver = Self {
            shelf,
            known: Vec::with_capacity(shelf.len()),
            by_id: HashMap::new(),
            names: Places::new(),
            synonyms: Places::new(),
            everyday: Places::new(),
            everyday_of_form: Places::new(),
            everyday_base: Places::new(),
            sorted: Places::new(),
            bases: Places::new(),
            in_carriers: Places::new(),
            spoken: Places::new(),
            spoken_base: Places::new(),
            spoken_short: Places::new(),
            but_for_a_word: Places::new(),
            lists: Places::new(),
            dry_lists: Places::new(),
            mains: Places::new(),
            cas: HashMap::new(),
            cas_of_main: HashMap::new(),
            unsure: HashMap::new(),
            spellings: Vec::new(),
            bare_spellings: Vec::new(),
            index: MaterialIndex::default(),
            heard: Mutex::default(),
        };
        let index = || MaterialIndex::new(shelf.iter());
        resolver.index = thread::scope(|scope| {
            let indexed = scope.spawn(index);
            for material in shelf.iter() {
                resolver.learn(material);
            }
            resolver.learn_everyday();
            indexed.join().unwrap_or_else(|_| index())
        });
        for spellings in [&mut resolver.spellings, &mut resolver.bare_spellings] {
            spellings.sort_by_key(|(spelling, ..)| spelling.count());
        }
        resolver
    }

    /// Everyday names mean materials of the shelf, the most usual form first.
    fn learn_everyday(&mut self) {
        for everyday in everyday() {
            let name = everyday.name;
            for id in name.materials.iter() {
                let Some(&place) = self.by_id.get(id.as_str()) else {
                    continue;
                };
                if name.unsure {
                    let unsure = if name.materials.len() > 1 {
                        Unsure::ButForStrength
                    } else {
                        Unsure::Always
                    };
                    self.unsure.insert((everyday.base.clone(), place), unsure);
                    self.unsure.insert((everyday.spoken.clone(), place), unsure);
                }
                add(&mut self.spoken, everyday.spoken.clone(), place);
                add(&mut self.spoken_short, everyday.short.clone(), place);
                add(&mut self.everyday, everyday.sorted.clone(), place);
                add(&mut self.everyday_of_form, everyday.of_form.clone(), place);
                add(&mut self.everyday_base, everyday.base.clone(), place);
                add(&mut self.everyday, everyday.glued.clone(), place);
            }
            let first = name.materials.first();
            let place = first.and_then(|id| self.by_id.get(id.as_str()).copied());
            if let Some(place) = place.filter(|_| !name.unsure) {
                let spelling = Spelling::of(&name.name);
                self.spellings.push((spelling, How::Everyday, place));
            }
        }
    }

    fn learn(&mut self, material: &'s Arc<Material>) {
        let place = self.known.len();
        self.by_id.insert(material.id.as_str(), place);
        add(&mut self.names, fold::plain(&material.name), place);
        add(&mut self.names, fold::plain(material.id.as_str()), place);
        let own = std::iter::once((&material.name, How::Name));
        let others = material.synonyms.iter().map(|s| (s, How::Synonym));
        // "Cera bellina (polyglyceryl-3 beeswax)" goes by what stands before the brackets.
        if material.name.ends_with(')') {
            let (outer, inner) = split_brackets(&material.name);
            if !inner.is_empty() {
                add(&mut self.bases, fold::base(outer), place);
            }
        }
        if let Some((named, _)) = carrier(&material.name)
            && strength::stated(named).is_some()
        {
            add(&mut self.in_carriers, fold::base(named), place);
        }
        for (name, how) in own.chain(others) {
            if how == How::Synonym {
                add(&mut self.synonyms, fold::plain(name), place);
            }
            add(&mut self.sorted, fold::sorted(name), place);
            add(&mut self.sorted, fold::glued(name), place);
            add(&mut self.bases, fold::base(name), place);
            let english = spoken::english(name);
            add(&mut self.spoken_base, spoken::key(&english), place);
            add(&mut self.spoken_short, spoken::short_key(&english), place);
            for key in spoken::keys_without_one(&english) {
                add(&mut self.but_for_a_word, key, place);
            }
            // "SLES 70" is SLES of 70 %.
            let mut words = fold::spelt_out(name);
            if words.len() > 1
                && words
                    .last()
                    .and_then(|w| strength::value_of(w))
                    .is_some_and(|percent| strength::fits(material, percent) == Some(true))
            {
                words.pop();
                add(&mut self.bases, fold::base(&words.join(" ")), place);
            }
            self.spellings.push((Spelling::of(name), how, place));
            if strength::stated(name).is_some() {
                let bare = fold::kept(name).join(" ");
                self.bare_spellings.push((Spelling::of(&bare), how, place));
            }
        }
        let listed = listed(material);
        add(
            &mut self.lists,
            list_key(material.inci_names().map(Inci::spelling)),
            place,
        );
        if listed.len() > 1 {
            let dry = list_key(listed.iter().map(String::as_str));
            add(&mut self.dry_lists, dry, place);
        }
        if let Some(main) = main_of(material) {
            let share = main.share.typical.value();
            let name = fold::inci(main.inci.spelling());
            // A little water or preservative does not make it another material.
            let alone = material.inci_names().count() == 1;
            let how = if share >= strength::NEARLY_PURE && !strength::is_solution(material) || alone
            {
                add(&mut self.lists, name.clone(), place);
                How::Inci
            } else {
                How::MainInci
            };
            add(&mut self.mains, name, place);
            self.spellings
                .push((Spelling::of(main.inci.spelling()), how, place));
        }
        if let Some(main) = main_of(material)
            && let Some(cas) = main.cas
        {
            let alone = material.constituents.len() == 1;
            let pure = main.share.typical.value() >= strength::NEARLY_PURE;
            let map = if alone || pure {
                &mut self.cas
            } else {
                &mut self.cas_of_main
            };
            map.entry(cas).or_default().push(place);
        }
        self.known.push(Known::of(material));
    }

    /// The shelf.
    pub fn shelf(&self) -> &'s Shelf {
        self.shelf
    }

    /// The materials that a row may mean, the surest first.
    pub fn candidates(&self, wanted: &Wanted) -> Vec<Candidate> {
        self.resolve(wanted).candidates
    }

    /// What a row means: every way in which it names a material is followed, and what it
    /// says otherwise is held against each material found.
    pub fn resolve(&self, wanted: &Wanted) -> Resolution {
        self.resolve_while(wanted, || true)
    }

    /// As [`Self::resolve`], but without the search for misspelt and similar names, which is
    /// slow.
    pub fn resolve_exactly(&self, wanted: &Wanted) -> Resolution {
        self.resolve_while(wanted, || false)
    }

    /// As [`Self::resolve`], asking before the slow search for misspelt and similar names of what
    /// is not found otherwise.
    pub fn resolve_while(&self, wanted: &Wanted, likely: impl FnOnce() -> bool) -> Resolution {
        match self.resolve_before(wanted, likely) {
            Resolved::Known(known) => known,
            Resolved::Open(known, likely) => likely.unwrap_or(known),
        }
    }

    /// As [`Self::resolve_while`], but with what was found before the slow search kept beside
    /// what it found.
    pub fn resolve_before(&self, wanted: &Wanted, likely: impl FnOnce() -> bool) -> Resolved {
        let mut said = self.said(wanted);
        let mut found = self.found(&said);
        // What the columns beside the name say does not tell what the name means.
        let by_columns = |how: How| matches!(how, How::Inci | How::Cas | How::MainInci);
        if found.iter().all(|(how, _)| by_columns(*how)) && !blend::is_list(&wanted.name) {
            self.add_spoken(&mut found, &mut said);
        }
        let said = &said;
        self.add_siblings(&mut found, said.percent, said.form);
        let mut weighed: Vec<Weighed> = found
            .into_iter()
            .map(|(how, place)| self.weigh(how, place, said))
            .collect();
        weighed.sort_by(|a, b| a.rank.cmp(&b.rank));
        let mut resolution = self.judge(&weighed, wanted, said.percent);
        if !(resolution.taken && resolution.doubts.is_empty())
            && let Some(found) = self.in_two_tongues(wanted).or_else(|| {
                let open = !resolution.taken;
                open.then(|| self.for_a_purpose(wanted)).flatten()
            })
        {
            return Resolved::Known(found);
        }
        if resolution.taken {
            resolution.candidates.truncate(MOST);
            return Resolved::Known(resolution);
        }
        let mut more = likely().then(|| resolution.clone());
        if let Some(more) = &mut more {
            if more.candidates.len() < 3 {
                self.add_likely(more, said);
            }
            more.candidates.truncate(MOST);
        }
        resolution.candidates.truncate(MOST);
        Resolved::Open(resolution, more)
    }

    /// Every material that a row names in some way.
    fn found(&self, said: &Said<'_>) -> Vec<(How, usize)> {
        let (wanted, inci) = (said.wanted, said.inci.as_slice());
        let mut found: Vec<(How, usize)> = Vec::new();
        let mut take = |places: Option<&Vec<usize>>, how: How| {
            for &place in places.into_iter().flatten() {
                if !found.iter().any(|(_, p)| *p == place) {
                    found.push((how, place));
                }
            }
        };
        // What stands in brackets may be the rest of a list and is never dropped from one.
        let only = if blend::is_list(&wanted.name) {
            1
        } else {
            said.forms.len()
        };
        let spellings = || said.forms.iter().take(only);
        for spelling in spellings() {
            take(self.names.get(&spelling.folded.plain), How::Name);
        }
        for spelling in spellings() {
            take(self.synonyms.get(&spelling.folded.plain), How::Synonym);
        }
        if !inci.is_empty() {
            take(
                self.lists.get(&list_key(inci.iter().map(String::as_str))),
                How::Inci,
            );
        }
        if let Some(cas) = wanted.cas {
            take(self.cas.get(&cas), How::Cas);
        }
        // As one INCI name.
        let names: Vec<String> = spellings().map(|s| fold::inci(s.text)).collect();
        for name in &names {
            take(self.lists.get(name), How::Inci);
        }
        for spelling in spellings() {
            take(self.sorted.get(&spelling.folded.sorted), How::Order);
            take(self.sorted.get(&spelling.folded.glued), How::Order);
        }
        for spelling in spellings() {
            take(self.everyday.get(&spelling.folded.sorted), How::Everyday);
            take(self.everyday_of_form.get(&spelling.of_form), How::Everyday);
            take(self.everyday.get(&spelling.folded.glued), How::Everyday);
        }
        for spelling in spellings() {
            take(self.bases.get(&spelling.folded.base), How::Base);
            take(self.everyday_base.get(&spelling.folded.base), How::Base);
        }
        // Without its strength it may be any.
        for spelling in spellings().filter(|_| said.percent.is_some()) {
            take(self.in_carriers.get(&spelling.folded.base), How::Base);
        }
        if inci.len() > 1 {
            let dry = list_key(
                inci.iter()
                    .map(String::as_str)
                    .filter(|n| fold::inci(n) != "aqua"),
            );
            take(self.dry_lists.get(&dry), How::MainInci);
        }
        if let Some(cas) = wanted.cas {
            take(self.cas_of_main.get(&cas), How::MainInci);
        }
        if let [only] = inci {
            take(self.mains.get(&fold::inci(only)), How::MainInci);
        }
        for name in &names {
            take(self.mains.get(name), How::MainInci);
        }
        found
    }

    /// Materials whose names are put together of the same words, in whatever language.
    fn add_spoken<'w>(&'w self, found: &mut Vec<(How, usize)>, said: &mut Said<'w>) {
        said.english = spoken::english(&said.wanted.name);
        said.spoken = spoken::key(&said.english);
        let everyday = self.spoken.get(&said.spoken);
        said.everyday.extend(everyday);
        let named = [
            (everyday, How::Everyday),
            (self.spoken_base.get(&said.spoken), How::Base),
        ];
        for (places, how) in named {
            for &place in places.into_iter().flatten() {
                if !found.iter().any(|(_, p)| *p == place) {
                    found.push((how, place));
                }
            }
        }
    }

    /// Where a strength or form is stated that what was found does not have, other jars
    /// of the same substance that have it.
    fn add_siblings(
        &self,
        found: &mut Vec<(How, usize)>,
        percent: Option<f64>,
        form: Option<Form>,
    ) {
        if percent.is_none() && form.is_none() {
            return;
        }
        let mains: Vec<&String> = found
            .iter()
            .filter(|(how, _)| *how != How::Misspelt)
            .filter_map(|(_, place)| self.known.get(*place)?.main.as_ref().map(|(m, _)| m))
            .collect();
        let mut more: Vec<usize> = Vec::new();
        for main in mains {
            for &place in self.mains.get(main).into_iter().flatten() {
                let fits = self.known.get(place).is_some_and(|known| {
                    percent.is_none_or(|p| strength::fits(known.material, p) == Some(true))
                        && form_against(form, known.form).is_none()
                });
                if fits && !more.contains(&place) {
                    more.push(place);
                }
            }
        }
        for place in more {
            if !found.iter().any(|(_, p)| *p == place) {
                found.push((How::Strength, place));
            }
        }
    }
}

/// "Coco betaine (Cocamidopropyl Betaine)" as the part before and the part within
/// the brackets, "Lye - NaOH" as what stands on the sides of the dash.
fn split_brackets(name: &str) -> (&str, &str) {
    let Some((outer, rest)) = name.split_once(['(', '[']) else {
        let mut dashes = [" - ", " – ", " — "].into_iter();
        let parts = dashes.find_map(|dash| name.split_once(dash));
        // "Olive oil - 18 %" is a name with its amount.
        let named = |(_, behind): &(&str, &str)| !behind.contains(|c: char| c.is_ascii_digit());
        return parts.filter(named).unwrap_or((name, ""));
    };
    if outer.trim().is_empty() {
        return (name, "");
    }
    let inner = rest
        .rsplit_once([')', ']'])
        .map_or(rest, |(inner, _)| inner);
    (outer, inner)
}

#[cfg(test)]
mod tests;
