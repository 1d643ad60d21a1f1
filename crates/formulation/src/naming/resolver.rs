//! Which material of the shelf a row means, weighed by everything the row says.

use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

use super::words::{Form, words};
use super::{blend, fold, spelling::Spelling, strength};
use crate::built_in;
use crate::cas::Cas;
use crate::inventory::inventory;
use crate::material::{Material, MaterialId};
use crate::search::MaterialIndex;
use crate::shelf::Shelf;

/// How a match was found, the surest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum How {
    /// The maker chose it.
    Chosen,
    /// The name is the same.
    Name,
    /// The name is one of its synonyms.
    Synonym,
    /// Its name or a synonym has the same words in another order.
    Order,
    /// The INCI names are the same.
    Inci,
    /// The CAS number is that of its only substance.
    Cas,
    /// An everyday name of it, in one of the languages read.
    Everyday,
    /// Another strength of the substance was found, and this one has the strength stated.
    Strength,
    /// The names differ in strength, form or grade only.
    Base,
    /// The INCI name is that of its largest substance besides water.
    MainInci,
    /// The name differs by a few letters.
    Misspelt,
    /// All words of the name are found in it.
    Words,
}

impl How {
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Chosen => "chosen by you",
            Self::Name => "same name",
            Self::Synonym => "a synonym",
            Self::Order => "same words in another order",
            Self::Inci => "same INCI name",
            Self::Cas => "same CAS number",
            Self::Everyday => "an everyday name",
            Self::Strength => "same substance and strength",
            Self::Base => "same name but for strength, form or grade",
            Self::MainInci => "INCI name of its main substance",
            Self::Misspelt => "similar spelling",
            Self::Words => "same words in another name",
        }
    }
    /// Whether it is taken unless the maker says otherwise. The rest are offered,
    /// and the name is taken as a new material until one is chosen.
    pub const fn is_taken(self) -> bool {
        !matches!(self, Self::Words)
    }
    /// Whether two readers of the table would doubt it.
    pub const fn is_doubtful(self) -> bool {
        matches!(self, Self::MainInci | Self::Misspelt | Self::Words)
    }
}

/// A material that a name may mean.
#[derive(Clone, PartialEq, Debug)]
pub struct Candidate {
    /// Which.
    pub id: MaterialId,
    /// Its name.
    pub name: Arc<str>,
    /// How it was found.
    pub how: How,
    /// What speaks against it, in words; empty if nothing does.
    pub against: String,
}

/// What a row of a table says about its material.
#[derive(Clone, PartialEq, Eq, Hash, Debug, Default)]
pub struct Wanted {
    /// Name as written.
    pub name: String,
    /// INCI name; several joined by commas.
    pub inci: String,
    /// CAS number.
    pub cas: Option<Cas>,
    /// Supplier.
    pub supplier: String,
    /// Strength in percent as a column beside the name states it, in words.
    pub strength: String,
}

impl Wanted {
    /// A row that says nothing but a name.
    pub fn named(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            ..Self::default()
        }
    }

    /// The strength stated beside the name or in it, in percent.
    pub fn percent(&self) -> Option<f64> {
        let column = self.strength.trim();
        let plain = column.trim_end_matches('%').trim();
        strength::stated(column)
            .or_else(|| strength::value_of(plain).filter(|v| *v > 0.0 && *v <= 100.0))
            .or_else(|| strength::stated(&self.name))
    }

    /// The INCI names: of their own column, else those in the name, if it is a list
    /// such as "X (and) Y" or has an INCI name in brackets.
    pub fn inci_names(&self) -> Vec<String> {
        if !self.inci.trim().is_empty() {
            return blend::parts(&self.inci);
        }
        if blend::is_list(&self.name) {
            return blend::parts(&self.name);
        }
        let is_inci = |name: &String| inventory().by_name(name).is_some();
        let (_, inner) = split_brackets(&self.name);
        let inner = blend::parts(inner);
        if !inner.is_empty() && inner.iter().all(is_inci) {
            return inner;
        }
        // "Cetearyl alcohol and ceteareth-20", where both are INCI names.
        let parts = blend::parts(&self.name);
        if parts.len() > 1 && parts.iter().all(is_inci) {
            return parts;
        }
        Vec::new()
    }
}

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

/// Most candidates listed for a name.
const MOST: usize = 6;
/// A substance of at least this share of 1 must not be missing from a list of INCI names
/// that is to be the same material.
const NOTABLE: f64 = 0.1;

/// Up to this share of 1, water is what a pure substance has drawn in.
const A_LITTLE: f64 = 0.05;

/// In the name of a material of the shelf that only stands for one of the maker's.
const PLACEHOLDER: &str = "(placeholder)";

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

type Places = HashMap<String, Vec<usize>>;

/// The names of a shelf, ready to be matched.
#[derive(Debug)]
pub struct Resolver<'s> {
    shelf: &'s Shelf,
    known: Vec<Known<'s>>,
    by_id: HashMap<&'s str, usize>,
    names: Places,
    synonyms: Places,
    everyday: Places,
    sorted: Places,
    bases: Places,
    lists: Places,
    /// Lists without the water that is in them.
    dry_lists: Places,
    mains: Places,
    cas: HashMap<Cas, Vec<usize>>,
    spellings: Vec<(Spelling, How, usize)>,
    index: MaterialIndex,
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

/// Whether more water is in a material than what a pure substance draws in.
fn is_solution(material: &Material) -> bool {
    material.constituents.iter().any(|c| {
        fold::inci(&c.inci) == "aqua"
            && c.incidental.is_none()
            && c.share.typical.value() > A_LITTLE
    })
}

fn form_of(name: &str) -> Option<Form> {
    fold::spelt_out(name)
        .iter()
        .find_map(|w| words().forms.get(w).copied())
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
            sorted: Places::new(),
            bases: Places::new(),
            lists: Places::new(),
            dry_lists: Places::new(),
            mains: Places::new(),
            cas: HashMap::new(),
            spellings: Vec::new(),
            index: MaterialIndex::new(shelf.iter()),
        };
        for material in shelf.iter() {
            resolver.learn(material);
        }
        resolver.learn_everyday();
        resolver
    }

    /// Everyday names mean materials of the shelf, the most usual form first.
    fn learn_everyday(&mut self) {
        for name in built_in::plain_names() {
            for id in name.materials.iter() {
                if let Some(&place) = self.by_id.get(id.as_str()) {
                    add(&mut self.everyday, fold::sorted(&name.name), place);
                    add(&mut self.everyday, fold::base(&name.name), place);
                }
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
        for (name, how) in own.chain(others) {
            if how == How::Synonym {
                add(&mut self.synonyms, fold::plain(name), place);
            }
            add(&mut self.sorted, fold::sorted(name), place);
            add(&mut self.bases, fold::base(name), place);
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
        }
        let listed: BTreeSet<String> = material
            .inci_names()
            .map(|n| fold::inci(n))
            .filter(|n| n != "aqua")
            .collect();
        add(
            &mut self.lists,
            list_key(material.inci_names().map(AsRef::as_ref)),
            place,
        );
        if listed.len() > 1 {
            let dry = list_key(listed.iter().map(String::as_str));
            add(&mut self.dry_lists, dry, place);
        }
        let main = material
            .constituents
            .iter()
            .filter(|c| c.incidental.is_none() && fold::inci(&c.inci) != "aqua")
            .max_by(|a, b| a.share.typical.value().total_cmp(&b.share.typical.value()))
            .or_else(|| material.constituents.first());
        if let Some(main) = main {
            let share = main.share.typical.value();
            let name = fold::inci(&main.inci);
            // A little water or preservative does not make it another material.
            let alone = material.inci_names().count() == 1;
            let how = if share >= strength::NEARLY_PURE && !is_solution(material) || alone {
                add(&mut self.lists, name.clone(), place);
                How::Inci
            } else {
                How::MainInci
            };
            add(&mut self.mains, name, place);
            self.spellings.push((Spelling::of(&main.inci), how, place));
        }
        if let [only] = material.constituents.as_slice()
            && let Some(cas) = only.cas
        {
            self.cas.entry(cas).or_default().push(place);
        }
        self.known.push(Known {
            listed,
            all: material
                .constituents
                .iter()
                .map(|c| fold::inci(&c.inci))
                .collect(),
            main: main.map(|c| (fold::inci(&c.inci), c.share.typical.value())),
            form: form_of(&material.name),
            words: fold::spelt_out(&material.name),
            base: fold::base(&material.name)
                .split(' ')
                .map(str::to_owned)
                .collect(),
            material,
        });
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
        self.resolve_said(&self.said(wanted, true))
    }

    /// As [`Self::resolve`], but without the search for misspelt and similar names, which is
    /// slow.
    pub fn resolve_exactly(&self, wanted: &Wanted) -> Resolution {
        self.resolve_said(&self.said(wanted, false))
    }

    fn resolve_said(&self, said: &Said<'_>) -> Resolution {
        let wanted = said.wanted;
        let mut found = self.found(wanted, &said.inci);
        self.add_siblings(&mut found, said.percent, said.form);
        let mut weighed: Vec<Weighed> = found
            .into_iter()
            .map(|(how, place)| self.weigh(how, place, said))
            .collect();
        weighed.sort_by(|a, b| a.rank.cmp(&b.rank));
        let mut resolution = self.judge(&weighed, wanted, said.percent);
        if said.likely
            && (weighed.is_empty() || (!resolution.taken && resolution.candidates.len() < 3))
        {
            self.add_likely(&mut resolution, said);
        }
        resolution.candidates.truncate(MOST);
        resolution
    }

    /// Every material that a row names in some way.
    fn found(&self, wanted: &Wanted, inci: &[String]) -> Vec<(How, usize)> {
        let mut found: Vec<(How, usize)> = Vec::new();
        let mut take = |places: Option<&Vec<usize>>, how: How| {
            for &place in places.into_iter().flatten() {
                if !found.iter().any(|(_, p)| *p == place) {
                    found.push((how, place));
                }
            }
        };
        let (outer, inner) = split_brackets(&wanted.name);
        // What stands in brackets may be the rest of a list and is never dropped from one.
        let spellings: Vec<&str> = if inner.is_empty() || blend::is_list(&wanted.name) {
            vec![wanted.name.as_str()]
        } else {
            vec![wanted.name.as_str(), outer, inner]
        };
        for spelling in &spellings {
            take(self.names.get(&fold::plain(spelling)), How::Name);
        }
        for spelling in &spellings {
            take(self.synonyms.get(&fold::plain(spelling)), How::Synonym);
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
        for spelling in &spellings {
            take(self.lists.get(&list_key([*spelling])), How::Inci);
        }
        for spelling in &spellings {
            take(self.sorted.get(&fold::sorted(spelling)), How::Order);
        }
        for spelling in &spellings {
            take(self.everyday.get(&fold::sorted(spelling)), How::Everyday);
            take(self.everyday.get(&fold::base(spelling)), How::Everyday);
        }
        for spelling in &spellings {
            take(self.bases.get(&fold::base(spelling)), How::Base);
        }
        if inci.len() > 1 {
            let dry = list_key(
                inci.iter()
                    .map(String::as_str)
                    .filter(|n| fold::inci(n) != "aqua"),
            );
            take(self.dry_lists.get(&dry), How::MainInci);
        }
        if let [only] = inci {
            take(self.mains.get(&fold::inci(only)), How::MainInci);
        }
        for spelling in &spellings {
            take(self.mains.get(&fold::inci(spelling)), How::MainInci);
        }
        found
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

    /// Holds what a row says against one material.
    fn weigh(&self, how: How, place: usize, said: &Said<'_>) -> Weighed {
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
        let mut against: Vec<String> = Vec::new();
        let mut soft: Vec<String> = Vec::new();
        if let Some(told) = inci_against(inci, known) {
            against.push(told);
        }
        match wanted.cas.map(|cas| (cas, cas_fits(cas, known))) {
            Some((cas, Some(false))) => {
                against.push(format!("CAS {cas} is that of another substance"));
            }
            Some((cas, None)) if inci.is_empty() && !material.constituents.is_empty() => {
                soft.push(format!(
                    "CAS {cas} is not known to be that of “{}”",
                    material.name
                ));
            }
            _ => {}
        }
        // A name that is the same needs no strength to agree with its composition.
        if let Some(percent) = percent
            && how != How::Name
        {
            match strength::fits(material, percent) {
                Some(false) => against.push(format!("it is not of {} %", shown(percent))),
                Some(true) => {}
                None => soft.push(format!("the strength of “{}” is not known", material.name)),
            }
        }
        if how > How::Synonym
            && let Some(told) = form_against(form, known.form)
        {
            against.push(told.to_owned());
        }
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
        // The maker's own jar of a supplier comes before the generic one.
        let rank = Rank {
            against: !against.is_empty(),
            // "Panthenol powder" is the powder before any other panthenol.
            other_form: how > How::Order && form.is_some() && known.form != form,
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
            rank,
        }
    }

    /// What a row says, made ready to be held against many materials.
    fn said<'w>(&'w self, wanted: &'w Wanted, likely: bool) -> Said<'w> {
        let (outer, inner) = split_brackets(&wanted.name);
        // What is a name as a whole is no list of INCI names in brackets.
        let whole =
            wanted.inci.trim().is_empty() && self.names.contains_key(&fold::plain(&wanted.name));
        Said {
            wanted,
            inci: if whole {
                Vec::new()
            } else {
                wanted.inci_names()
            },
            percent: wanted.percent(),
            form: form_of(&wanted.name).or_else(|| form_of(&wanted.strength)),
            words: fold::spelt_out(&wanted.name),
            everyday: [wanted.name.as_str(), outer, inner]
                .iter()
                .take(if inner.is_empty() { 1 } else { 3 })
                .filter(|s| !s.is_empty())
                .flat_map(|s| [fold::sorted(s), fold::base(s)])
                .filter_map(|key| self.everyday.get(&key))
                .collect(),
            likely,
        }
    }

    /// What of the materials weighed is taken, and what makes it a question.
    fn judge(&self, weighed: &[Weighed], wanted: &Wanted, percent: Option<f64>) -> Resolution {
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
        // The name means another one, and something else in the row speaks against that.
        let by_name = |w: &Weighed| w.how <= How::Order || w.rank.listed != usize::MAX;
        if let Some(other) = weighed
            .iter()
            .filter(|w| !w.against.is_empty())
            .find(|w| w.how <= How::Order || by_name(w) && !by_name(best))
            && best.how > How::Order
            && best.how != How::Strength
            && let Some(known) = self.known.get(other.place)
        {
            resolution.doubts.push(format!(
                "the name is that of “{}”, but {}",
                known.material.name,
                other.against.join(" and ")
            ));
        }
        let rivals: Vec<&str> = weighed
            .iter()
            .skip(1)
            .filter(|w| w.against.is_empty() && self.rivals(best, w, wanted.inci.is_empty()))
            .filter_map(|w| Some(&*self.known.get(w.place)?.material.name))
            .collect();
        if !rivals.is_empty() {
            resolution
                .doubts
                .push(format!("“{}” would fit as well", rivals.join("”, “")));
        } else if best.how == How::Base && percent.is_none() && !self.is_whole(best.place) {
            resolution
                .doubts
                .push("its strength is not stated".to_owned());
        }
        if name.contains(PLACEHOLDER) && best.how != How::Name {
            resolution
                .doubts
                .push("it stands for a material of your own".to_owned());
        }
        if best.how.is_doubtful() && resolution.doubts.is_empty() {
            resolution.doubts.push(best.how.label().to_owned());
        }
        resolution
    }

    /// Whether a material is one substance or a fixed blend, so that it has no other
    /// strengths.
    fn is_whole(&self, place: usize) -> bool {
        self.known.get(place).is_some_and(|k| {
            k.listed.len() != 1
                || k.main
                    .as_ref()
                    .is_none_or(|(_, share)| *share >= strength::NEARLY_PURE)
        })
    }

    /// Whether another material fits a row as well as the best: found in the same way, or
    /// as another strength where none is stated.
    fn rivals(&self, best: &Weighed, other: &Weighed, by_name: bool) -> bool {
        if best.rank.elsewhere != other.rank.elsewhere {
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
        let plainer = self.is_plainer(best.place, other.place);
        // Beside INCI names, an everyday name tells two of the same apart.
        let everyday = !by_name
            && best.rank.listed < other.rank.listed
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
    fn is_plainer(&self, a: usize, b: usize) -> bool {
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
                    .any(|c| c.incidental.is_none() && fold::inci(&c.inci) == "aqua")
        };
        // A strong solution is no pure substance.
        same && pure(a) && !is_solution(a.material) && !pure(b) && more(b)
    }

    fn same_content(&self, a: usize, b: usize) -> bool {
        match (self.known.get(a), self.known.get(b)) {
            (Some(a), Some(b)) => {
                // A pigment is no UV filter, though the substance is the same.
                !a.material.constituents.is_empty()
                    && a.material.constituents == b.material.constituents
                    && a.material.roles == b.material.roles
            }
            _ => false,
        }
    }

    /// What a row that names nothing may mean: misspelt names, then names with its words.
    fn add_likely(&self, resolution: &mut Resolution, said: &Said<'_>) {
        let wanted = said.wanted;
        let first = resolution.candidates.is_empty();
        let (outer, _) = split_brackets(&wanted.name);
        let list = blend::is_list(&wanted.name);
        let name = if list { wanted.name.as_str() } else { outer };
        let offer = |how: How, place: usize, resolution: &mut Resolution| {
            let Some(known) = self.known.get(place) else {
                return false;
            };
            if resolution
                .candidates
                .iter()
                .any(|c| c.id == known.material.id)
            {
                return false;
            }
            let weighed = self.weigh(how, place, said);
            let clear = weighed.against.is_empty();
            resolution.candidates.push(Candidate {
                id: known.material.id.clone(),
                name: known.material.name.clone(),
                how,
                against: weighed.against.join(", "),
            });
            clear
        };
        let mut taken = None;
        if !list {
            let asked = Spelling::of(name);
            let mut near: Vec<(usize, How, usize)> = self
                .spellings
                .iter()
                .filter_map(|(spelling, how, place)| {
                    Some((asked.edits_to(spelling)?, *how, *place))
                })
                .collect();
            near.sort();
            for (_, _, place) in near.into_iter().take(MOST) {
                if offer(How::Misspelt, place, resolution) && taken.is_none() {
                    taken = Some(How::Misspelt);
                }
            }
        }
        let base: Vec<String> = fold::base(name)
            .split(' ')
            .filter(|w| !w.is_empty())
            .map(str::to_owned)
            .collect();
        let asked = [base.join(" "), name.to_owned(), wanted.inci.clone()];
        for (n, words) in asked.iter().enumerate() {
            if words.trim().is_empty() {
                continue;
            }
            let hits = self.index.search(words, MOST);
            let places: Vec<usize> = hits
                .iter()
                .filter_map(|id| self.by_id.get(id.as_str()).copied())
                .collect();
            // One material alone has these words, and little else.
            let alone = n < 2 && !list && taken.is_none() && self.alone_with(&base);
            for place in places {
                if offer(How::Words, place, resolution) && alone && taken.is_none() {
                    taken = Some(How::Words);
                }
            }
        }
        if let Some(how) = taken
            && first
        {
            // The one taken stands first.
            if let Some(at) = resolution
                .candidates
                .iter()
                .position(|c| c.how == how && c.against.is_empty())
            {
                let one = resolution.candidates.remove(at);
                resolution.candidates.insert(0, one);
                resolution.taken = true;
                resolution.doubts.push(how.label().to_owned());
            }
        }
    }

    /// Whether exactly one material has all these words in its name, and they are at
    /// least half of its words.
    fn alone_with(&self, asked: &[String]) -> bool {
        if asked.is_empty() || asked.iter().all(|w| w.chars().count() < 3) {
            return false;
        }
        let mut count = 0;
        let mut half = false;
        for known in &self.known {
            if asked.iter().all(|w| known.base.contains(w)) {
                count += 1;
                half = asked.len() * 2 >= known.base.len();
            }
        }
        count == 1 && half
    }
}

/// What a row says, made ready to be held against many materials.
struct Said<'w> {
    wanted: &'w Wanted,
    inci: Vec<String>,
    percent: Option<f64>,
    form: Option<Form>,
    words: Vec<String>,
    /// The materials that it is an everyday name of, the most usual first.
    everyday: Vec<&'w Vec<usize>>,
    /// Whether misspelt and similar names are looked for.
    likely: bool,
}

impl Said<'_> {
    fn everyday_rank(&self, place: usize) -> usize {
        self.everyday
            .iter()
            .filter_map(|places| places.iter().position(|p| *p == place))
            .min()
            .unwrap_or(usize::MAX)
    }
}

/// A material held against a row.
#[derive(Debug)]
struct Weighed {
    how: How,
    place: usize,
    /// What contradicts it.
    against: Vec<String>,
    /// What leaves it open.
    soft: Vec<String>,
    rank: Rank,
}

impl Default for Weighed {
    fn default() -> Self {
        Self {
            how: How::Words,
            place: 0,
            against: vec![String::new()],
            soft: Vec::new(),
            rank: Rank {
                against: true,
                other_form: true,
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

/// The order of materials weighed: what nothing contradicts, then the surest way, then
/// the supplier named, then most words shared, then the plainest name.
#[derive(PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Rank {
    against: bool,
    other_form: bool,
    how: How,
    elsewhere: bool,
    listed: usize,
    words_not_shared: usize,
    words: usize,
    letters: usize,
    id: MaterialId,
}

fn shown(percent: f64) -> String {
    format!("{percent:.2}")
        .trim_end_matches('0')
        .trim_end_matches('.')
        .to_owned()
}

fn form_against(wanted: Option<Form>, known: Option<Form>) -> Option<&'static str> {
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
fn inci_against(inci: &[String], known: &Known<'_>) -> Option<String> {
    let names: Vec<String> = inci
        .iter()
        .map(|n| fold::inci(n))
        .filter(|n| !n.is_empty())
        .collect();
    if names.is_empty() || known.material.constituents.is_empty() {
        return None;
    }
    let has = |name: &String| {
        known.all.contains(name)
            || known
                .all
                .iter()
                .any(|own| Spelling::of(name).edits_to(&Spelling::of(own)).is_some())
    };
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
        c.incidental.is_none()
            && c.share.typical.value() >= NOTABLE
            && fold::inci(&c.inci) != "aqua"
            && !names.contains(&fold::inci(&c.inci))
            && !names.iter().any(|n| {
                Spelling::of(n)
                    .edits_to(&Spelling::of(&fold::inci(&c.inci)))
                    .is_some()
            })
    });
    missing.map(|c| format!("it holds {} too, which the INCI names leave out", c.inci))
}

/// Whether a CAS number is that of something in a material; `None` if nobody knows.
fn cas_fits(cas: Cas, known: &Known<'_>) -> Option<bool> {
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

/// "Coco betaine (Cocamidopropyl Betaine)" as the part before and the part within
/// the brackets.
fn split_brackets(name: &str) -> (&str, &str) {
    let Some((outer, rest)) = name.split_once(['(', '[']) else {
        return (name, "");
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
#[path = "resolver_tests.rs"]
mod tests;
