//! What anybody may hand to the program, given to every reader of it: a reader may refuse, but
//! never break, and what it takes it must write so that it reads the same again.
//!
//! The targets are shared by `cargo fuzz` (see `fuzz/`), by the test run, which gives each a
//! bounded number of changed inputs, and by the program `long_run`.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::time::{Duration, Instant};

use formulation::amount::{number, typed};
use formulation::batch::record::Event;
use formulation::batch::weighing_scale::{read_reading, read_scale};
use formulation::batch::workshop::Workshop;
use formulation::evaluation::{Context, evaluate};
use formulation::file::record_file::RecordFile;
use formulation::file::table::recipe::RecipeSettings as TableSettings;
use formulation::file::table::{self, price_list, recipe, sections};
use formulation::file::trial_file::{Frozen, TrialLedger};
use formulation::file::{
    finished, formula_file, formula_json, formula_table, material_file, record_file, report,
    shelf_file, stock_file, trial_file,
};
use formulation::formula::Date;
use formulation::ledger::{Head, LedgerKind as _};
use formulation::mass::{MassUnit, VolumeUnit, read_mass, read_volume};
use formulation::material::{Material, MaterialId};
use formulation::naming::{Resolver, qs};
use formulation::own_shelf::{OwnShelf, ShelfEdit};
use formulation::quantity::{Currency, Percent};
use formulation::rules::RuleBook;
use formulation::shelf::{Shelf, built_in};
use formulation::solve::target::{Target, TargetQuantity};
use formulation::solve::{ingredient_list, pasted_list};
use formulation::stock::{Lot, LotId, LotStatus, LotUsage, Stock};
use phasewright::broken;
use phasewright::state::Settings;

use crate::batch;

/// A reader and what is given to it.
pub struct Input {
    /// Its name, which is that of its folder below `fuzz/corpus`.
    pub name: &'static str,
    /// How much work one input is: so many inputs of the cheapest target cost as much.
    pub cost: u64,
    /// Gives it bytes; it breaks if anything is wrong.
    pub run: fn(&[u8]),
}

/// Every reader of what comes from outside.
pub const ALL: [Input; 16] = [
    Input {
        name: "number",
        cost: 1,
        run: numbers,
    },
    Input {
        name: "target",
        cost: 1,
        run: targets,
    },
    Input {
        name: "settings",
        cost: 2,
        run: settings,
    },
    Input {
        name: "trial",
        cost: 2,
        run: trial,
    },
    Input {
        name: "head",
        cost: 1,
        run: head,
    },
    Input {
        name: "stock",
        cost: 8,
        run: stock,
    },
    Input {
        name: "material",
        cost: 8,
        run: materials,
    },
    Input {
        name: "shelf",
        cost: 8,
        run: shelf,
    },
    Input {
        name: "record",
        cost: 10,
        run: record,
    },
    Input {
        name: "formula",
        cost: 10,
        run: formula,
    },
    Input {
        name: "json",
        cost: 10,
        run: json,
    },
    Input {
        name: "finished",
        cost: 10,
        run: finished,
    },
    Input {
        name: "rules",
        cost: 10,
        run: rules,
    },
    Input {
        name: "list",
        cost: 20,
        run: list,
    },
    Input {
        name: "table",
        cost: 40,
        run: table,
    },
    Input {
        name: "evaluation",
        cost: 400,
        run: evaluation,
    },
];

fn text(bytes: &[u8]) -> std::borrow::Cow<'_, str> {
    String::from_utf8_lossy(bytes)
}

fn small_shelf() -> &'static Shelf {
    static SHELF: OnceLock<Shelf> = OnceLock::new();
    SHELF.get_or_init(|| {
        let materials = built_in().iter().step_by(12).cloned();
        materials.collect()
    })
}

fn numbers(bytes: &[u8]) {
    let text = text(bytes);
    if let Ok(amount) = number::amount(&text, None) {
        // Whatever is taken for an amount adds up a million times in any unit.
        let most = number::within(amount.value).unwrap();
        assert!(most.checked_mul(1_000_000_000_000_i64.into()).is_some());
    }
    if let Ok(percent) = text.parse::<Percent>() {
        assert_eq!(percent.to_string().parse::<Percent>(), Ok(percent));
    }
    let _ = typed::percent(&text);
    let _ = typed::ph(&text);
    let _ = typed::temperature(&text);
    let _ = typed::density(&text);
    let _ = typed::count(&text, "things", 1000);
    let _ = number::date(&text);
    let _ = read_volume(&text, Some(VolumeUnit::Millilitre));
    let _ = read_reading(&text, MassUnit::Gram);
    let _ = read_scale(&text);
    let _ = table::amounts::read(&text, None, None);
    if let Ok(mass) = read_mass(&text, Some(MassUnit::Gram)) {
        assert_eq!(read_mass(&mass.to_string(), Some(MassUnit::Gram)), Ok(mass));
    }
}

fn targets(bytes: &[u8]) {
    let text = text(bytes);
    if let Ok(target) = text.parse::<Target>() {
        let written = target.to_string();
        assert_eq!(written.parse().as_ref(), Ok(&target), "{written}");
    }
    let _ = text.parse::<TargetQuantity>();
    let _ = text.parse::<ingredient_list::Fact>();
    let _ = qs::quantum_satis(&text);
}

fn settings(bytes: &[u8]) {
    let (settings, problems) = Settings::read(&text(bytes));
    if settings.unreadable {
        assert!(!problems.is_empty());
        return;
    }
    let written = settings.write().unwrap();
    let (mut again, _) = Settings::read(&written);
    // What is not understood may change places.
    let mut settings = settings;
    again.kept.sort();
    settings.kept.sort();
    assert_eq!(again, settings, "{written}");
}

fn trial(bytes: &[u8]) {
    let entry = TrialLedger::read(&text(bytes), 1)
        .and_then(|entry| trial_file::from_text(entry, &mut Frozen::default()));
    if let Ok(entry) = entry {
        let written = trial_file::to_text(&entry).unwrap();
        let line = TrialLedger::write(&written).unwrap();
        assert_eq!(TrialLedger::read(&line, 1), Ok(written.clone()));
        let again = trial_file::from_text(written, &mut Frozen::default());
        assert_eq!(again, Ok(entry));
    }
}

fn head(bytes: &[u8]) {
    if let Ok(head) = Head::read(&text(bytes)) {
        assert_eq!(Head::read(&head.write().unwrap()), Ok(head));
    }
}

fn stock(bytes: &[u8]) {
    if let Ok((stock, workshop)) = stock_file::read(&text(bytes), "stock") {
        let written = stock_file::write(&stock, &workshop).unwrap();
        let (again, shop) = stock_file::read(&written, "stock").unwrap();
        assert_eq!(again, stock);
        assert_eq!(shop.codes, workshop.codes);
        let usage = LotUsage::default();
        for lot in &stock.lots {
            let _ = stock.left(lot, &usage);
        }
    }
}

fn materials(bytes: &[u8]) {
    if let Ok(materials) = material_file::read(&text(bytes), "materials") {
        let shared: Vec<_> = materials.iter().cloned().map(std::sync::Arc::new).collect();
        let written = material_file::write(&shared).unwrap();
        assert_eq!(
            material_file::read(&written, "materials").unwrap(),
            materials
        );
    }
}

fn shelf(bytes: &[u8]) {
    if let Ok(shelf) = shelf_file::read(&text(bytes), "shelf") {
        let written = shelf_file::write(&shelf).unwrap();
        assert_eq!(shelf_file::read(&written, "shelf").unwrap(), shelf);
    }
}

fn record(bytes: &[u8]) {
    if let Ok(loaded) = record_file::read_bytes(bytes, "record") {
        let _ = loaded.fault_words();
        let _ = loaded.record.portions();
    }
}

fn formula(bytes: &[u8]) {
    if let Ok(formula) = formula_file::read(&text(bytes), "formula") {
        let written = formula_file::write(&formula).unwrap();
        assert_eq!(formula_file::read(&written, "formula").unwrap(), formula);
    }
}

fn json(bytes: &[u8]) {
    if let Ok(formula) = formula_json::read(&text(bytes), "json") {
        let written = formula_json::write(&formula).unwrap();
        assert_eq!(formula_json::read(&written, "json").unwrap(), formula);
    }
}

fn finished(bytes: &[u8]) {
    let _ = finished::read(&text(bytes), "finished");
}

fn rules(bytes: &[u8]) {
    let _ = RuleBook::default().with_list(&text(bytes), "rules");
}

fn list(bytes: &[u8]) {
    let _ = pasted_list::read(&text(bytes), small_shelf());
}

fn table(bytes: &[u8]) {
    static MATCHER: OnceLock<Resolver<'_>> = OnceLock::new();
    if let Ok(tables) = table::read_bytes(bytes) {
        let matcher = MATCHER.get_or_init(|| Resolver::new(small_shelf()));
        let settings = TableSettings::default();
        for section in sections::sections(&tables) {
            if let Ok(proposal) = recipe::propose(&section.table, "x", &settings, matcher)
                && let Ok(accepted) = proposal.accept(matcher)
            {
                let _ = formula_file::write(&accepted.formula).unwrap();
            }
        }
        for one in &tables {
            if let Ok(list) = price_list::propose(one, &settings, matcher) {
                let _ = list.accept(matcher, "x", Date::constant(2026, 3, 2));
            }
        }
    }
    let _ = formula_table::read(&text(bytes), "table", "x", small_shelf());
}

fn evaluation(bytes: &[u8]) {
    if let Ok(formula) = formula_file::read(&text(bytes), "formula") {
        let context = Context::new(Date::constant(2026, 3, 2));
        for variant in &formula.variants {
            let evaluation = evaluate(&formula, variant, &context);
            let report = report::report(&formula, variant, &evaluation);
            let _ = report.text();
            let _ = report.json();
        }
    }
}

/// Gives bytes to the target of a name; for `cargo fuzz`.
pub fn give_one(name: &str, bytes: &[u8]) {
    let input = ALL.iter().find(|input| input.name == name).unwrap();
    (input.run)(bytes);
}

/// An input that broke its reader.
#[derive(Debug)]
pub struct Break {
    /// The input.
    pub bytes: Vec<u8>,
    /// What went wrong and where.
    pub cause: String,
}

/// What came of a run.
#[derive(Debug, Default)]
pub struct Outcome {
    /// Inputs given.
    pub inputs: u64,
    /// Those that broke the reader, each cause once.
    pub breaks: Vec<Break>,
    /// The longest that one input took.
    pub slowest: Duration,
}

impl Outcome {
    /// This and another one together.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        self.inputs += other.inputs;
        self.slowest = self.slowest.max(other.slowest);
        for found in other.breaks {
            self.keep(found);
        }
        self
    }

    /// Keeps an input that broke the reader, unless one did so at the same place.
    fn keep(&mut self, found: Break) {
        let place = |b: &Break| b.cause.rsplit_once('(').map(|(_, p)| p.to_owned());
        if !self.breaks.iter().any(|b| place(b) == place(&found)) {
            self.breaks.push(found);
        }
    }
}

/// The folder of the small inputs that a target begins with.
pub fn corpus_folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../fuzz/corpus")
        .join(name)
}

/// The inputs that a target begins with: those kept in its folder, in the order of their
/// names, and what the program itself writes today.
pub fn corpus(name: &str) -> Vec<Vec<u8>> {
    let mut paths: Vec<PathBuf> = std::fs::read_dir(corpus_folder(name))
        .map(|entries| entries.map(|entry| entry.unwrap().path()).collect())
        .unwrap_or_default();
    paths.sort();
    let mut all: Vec<Vec<u8>> = paths
        .iter()
        .map(|path| std::fs::read(path).unwrap())
        .collect();
    all.extend(written_today(name));
    all
}

/// Small files as the program writes them today, and the oldest it must read.
fn written_today(name: &str) -> Vec<Vec<u8>> {
    let golden = |file: &str| {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/files");
        std::fs::read(folder.join(file)).unwrap()
    };
    let recipe = "# kind: rinse-off\n# market: EU\nphase,material,percent,composition\n\
                  A,Aqua,q.s.,pure\nA,Glycerin,5,pure\nB,Citric Acid,0.4,pure\nC,Parfum,1,pure\n";
    let formula = || {
        formula_table::read(recipe, "recipe", "Gel", built_in())
            .unwrap()
            .formula
    };
    let text = match name {
        "formula" | "evaluation" => {
            return vec![
                formula_file::write(&formula()).unwrap().into_bytes(),
                golden("version-1.formula.ron"),
            ];
        }
        "json" => formula_json::write(&formula()).unwrap(),
        "finished" => {
            let formula = formula();
            let context = Context::new(Date::constant(2026, 3, 2));
            let evaluation = evaluate(&formula, formula.active(), &context);
            let today = finished::write(
                &formula,
                formula.active(),
                &evaluation,
                Date::constant(2026, 3, 2),
                &finished::Enclosed::default(),
            );
            return vec![
                today.unwrap().into_bytes(),
                golden("version-1.finished.ron"),
            ];
        }
        "stock" => stock_file::write(&stock_of_one(), &Workshop::default()).unwrap(),
        "shelf" => {
            let mut shelf = OwnShelf::default();
            for material in small_shelf().iter().take(3) {
                shelf.apply(&ShelfEdit::Put(material.clone()), "2026-05-01T10:00:00Z");
                let mut changed = Material::clone(material);
                changed.supplier = Some("Fell \"Supplies\"".into());
                shelf.apply(&ShelfEdit::Put(changed.into()), "2026-05-01T11:00:00Z");
            }
            shelf_file::write(&shelf).unwrap()
        }
        "record" => return vec![record_of_one()],
        _ => return Vec::new(),
    };
    vec![text.into_bytes()]
}

fn stock_of_one() -> Stock {
    let mut stock = Stock::new(Currency::EUR);
    let day = Date::constant(2026, 3, 2);
    stock
        .add(Lot {
            id: LotId::new("L1").unwrap(),
            material: MaterialId::from_name("glycerin"),
            supplier: "Fell".into(),
            supplier_lot: "77".into(),
            received: day,
            expiry: Some(day),
            opened: None,
            days_once_opened: Some(90),
            pack: read_mass("1 kg", None).unwrap(),
            packs: 2,
            price_per_pack: Some(9.into()),
            currency: Currency::EUR,
            freight_share: 1.into(),
            tax_percent: 19.into(),
            status: LotStatus::Released,
            made_in: None,
            certificate: "".into(),
            note: "".into(),
        })
        .unwrap();
    stock
}

fn record_of_one() -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let opening = batch::opening("26-001").unwrap();
    let line = opening.lines[0].line;
    let mut file = RecordFile::create(folder.path(), opening, batch::AT, "Wren").unwrap();
    for number in 2..5 {
        let event = Event::Weighed {
            line,
            mass: batch::mass_of_entry(number),
            lot: LotId::new("L1"),
            remark: "".into(),
        };
        file.append(batch::AT, "Wren", event).unwrap();
    }
    std::fs::read(file.path()).unwrap()
}

/// Gives a target every input it begins with and then so many changed ones.
pub fn try_out(input: &Input, changed: u64, seed: u64) -> Outcome {
    let corpus = corpus(input.name);
    assert!(
        !corpus.is_empty(),
        "{} has nothing to begin with",
        input.name
    );
    let mut random = Random::new(seed);
    let mut outcome = Outcome::default();
    for bytes in &corpus {
        give(input, bytes, &mut outcome);
    }
    for _ in 0..changed {
        let bytes = changed_input(&corpus, &mut random);
        give(input, &bytes, &mut outcome);
    }
    outcome
}

fn give(input: &Input, bytes: &[u8], outcome: &mut Outcome) {
    let begin = Instant::now();
    let done = broken::caught(|| (input.run)(bytes));
    outcome.slowest = outcome.slowest.max(begin.elapsed());
    outcome.inputs += 1;
    if let Err(cause) = done {
        let bytes = bytes.to_vec();
        outcome.keep(Break { bytes, cause });
    }
}

/// Numbers that are drawn the same everywhere: xorshift64* (S. Vigna, "An experimental
/// exploration of Marsaglia's xorshift generators, scrambled", 2016).
#[derive(Debug)]
pub struct Random(u64);

impl Random {
    /// Begins with a seed.
    pub const fn new(seed: u64) -> Self {
        Self(seed ^ 0x9e37_79b9_7f4a_7c15)
    }

    /// A number below another.
    pub const fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let drawn = self.0.wrapping_mul(0x2545_f491_4f6c_dd1d) >> 11;
        if most == 0 {
            0
        } else {
            (drawn % most as u64) as usize
        }
    }
}

/// What readers stumble over.
const PIECES: [&str; 40] = [
    "79228162514264337593543950335",
    "-1",
    "0",
    "1e308",
    "1e-300",
    "NaN",
    "inf",
    "9223372036854775808",
    "18446744073709551615",
    "0.0000001",
    "-0",
    "99999999999999999999",
    "100",
    "1/3",
    "1/0",
    "½",
    "1,250",
    "2027-02-30",
    "0000-00-00",
    "9999-12-31",
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    "\"",
    "\\",
    ",",
    ":",
    "\n",
    "\u{0}",
    "\u{feff}",
    "\u{202e}",
    "\u{fffe}",
    "=1+1",
    "q.s.",
    "ß",
    "\u{301}",
    "Some(",
];

fn changed_input(corpus: &[Vec<u8>], random: &mut Random) -> Vec<u8> {
    let mut bytes = corpus[random.below(corpus.len())].clone();
    for _ in 0..=random.below(4) {
        let at = random.below(bytes.len() + 1);
        let end = (at + 1 + random.below(24)).min(bytes.len());
        match random.below(9) {
            0 => {
                if let Some(byte) = bytes.get_mut(at) {
                    *byte ^= 1 << random.below(8);
                }
            }
            1 => {
                bytes.drain(at..end.max(at));
            }
            2 => {
                let again = bytes.get(at..end).unwrap_or_default().to_vec();
                let place = random.below(bytes.len() + 1);
                bytes.splice(place..place, again);
            }
            3 => bytes.truncate(at),
            4 => {
                // A piece of another input, as large as it comes.
                let other = &corpus[random.below(corpus.len())];
                let from = random.below(other.len() + 1);
                let to = (from + random.below(200)).min(other.len());
                bytes.splice(at..at, other[from..to].iter().copied());
            }
            5 => {
                if let Some(byte) = bytes.get_mut(at) {
                    *byte = random.below(256) as u8;
                }
            }
            6 | 7 => {
                // The next number becomes another one.
                let digit = |b: &u8| b.is_ascii_digit();
                if let Some(from) = bytes.iter().skip(at).position(digit).map(|n| n + at) {
                    let length = bytes[from..]
                        .iter()
                        .take_while(|b| digit(b) || **b == b'.')
                        .count();
                    let piece = PIECES[random.below(20)];
                    bytes.splice(from..from + length, piece.bytes());
                }
            }
            _ => {
                let piece = PIECES[random.below(PIECES.len())];
                bytes.splice(at..at, piece.bytes());
            }
        }
    }
    // Large inputs cost time and find nothing that small ones do not.
    bytes.truncate(64 * 1024);
    bytes
}
