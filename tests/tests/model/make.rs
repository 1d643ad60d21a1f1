//! Making a batch: rounding, sheets, records, trace and cost against outside references.
#![expect(clippy::unwrap_used, reason = "what cannot be read is a failed test")]

use std::collections::BTreeMap;
use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use acceptance::{batch, pdf};
use clap::Parser as _;
use formulation::batch::plan::{PlanRequest, plan};
use formulation::batch::record::{Change, Decision, Event, Opening};
use formulation::batch::rounding::round_lines;
use formulation::batch::scale::SizeRequest;
use formulation::batch::weighing_scale::{WeighingScale, read_scale};
use formulation::batch_code::BatchCode;
use formulation::file::record_file::RecordFile;
use formulation::file::{finished, formula_file, record_file};
use formulation::formula::ItemId;
use formulation::mass::{ExactMass, MassUnit, read_mass, read_mass_with_point, read_volume};
use formulation::quantity::{Decimal, Percent, in_millilitres};
use formulation::stock::LotId;
use phasewright::cli::Cli;
use phasewright::headless;
use serde_json::Value;

fn mass(text: &str) -> ExactMass {
    read_mass(text, None).unwrap()
}

#[derive(Default)]
struct Case {
    resolution: String,
    batch: String,
    percents: Vec<Percent>,
    masses: Vec<ExactMass>,
}

fn rounding_cases() -> BTreeMap<String, Case> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/rounding.csv");
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(path)
        .unwrap();
    let mut cases: BTreeMap<String, Case> = BTreeMap::new();
    for row in reader.records() {
        let row = row.unwrap();
        let case = cases.entry(row[0].to_owned()).or_default();
        case.resolution = format!("{} g", &row[2]);
        case.batch = format!("{} g", &row[3]);
        case.percents.push(row[4].parse().unwrap());
        case.masses
            .push(read_mass_with_point(&row[5], MassUnit::Gram).unwrap());
    }
    cases
}

/// Against `reference/rounding.csv`, recomputed outside in exact fractions.
#[test]
fn masses_are_rounded_as_the_reference_rounds_them() {
    let cases = rounding_cases();
    assert_eq!(cases.len(), 20);
    for (name, case) in cases {
        let scale = WeighingScale::new("scale", mass(&case.resolution), None).unwrap();
        let result = round_lines(&case.percents, mass(&case.batch), &[scale]).unwrap();
        let masses: Vec<ExactMass> = result.lines.iter().map(|l| l.mass).collect();
        assert_eq!(masses, case.masses, "case {name}");
        assert_eq!(result.total, mass(&case.batch), "case {name}");
    }
}

/// NIST Special Publication 811, Appendix B.8 (factors printed in bold there are exact):
/// ounce (avoirdupois) to kilogram 2.834 952 E-02, pound (avoirdupois) to kilogram
/// 4.535 923 7 E-01 (exact by footnote 22), fluid ounce (US) to millilitre 2.957 353 E+01,
/// ounce (UK fluid) to millilitre 2.841 306 E+01. Written from memory of the table.
#[test]
fn units_agree_with_the_published_factors() {
    let kilograms = |text: &str| mass(text).in_unit(MassUnit::Kilogram, 8);
    assert_eq!(
        kilograms("1 oz").round_sf(7),
        Some(Decimal::new(2834952, 8))
    );
    assert_eq!(kilograms("1 lb"), Decimal::new(45359237, 8));
    for (text, millilitres) in [("1 fl oz", 29.57353), ("1 fl oz (imp)", 28.41306)] {
        let value = in_millilitres(read_volume(text, None).unwrap());
        assert!((value - millilitres).abs() < 0.5e-5, "{text} {value}");
    }
}

fn example(name: &str) -> String {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join(format!("../examples/{name}.formula.ron"))
        .display()
        .to_string()
}

/// Runs `phasewright make …` and gives back what it prints.
fn make(arguments: &[&str]) -> String {
    let words = ["phasewright", "make"].iter().chain(arguments);
    let command = Cli::try_parse_from(words).unwrap().command.unwrap();
    let mut out = Vec::new();
    assert_eq!(headless::run_to(&command, &mut out).unwrap(), 0);
    String::from_utf8(out).unwrap()
}

#[test]
fn a_saturday_of_bottles_is_sized_and_weighed_to_the_batch() {
    let file = example("oat-and-juniper-shower-gel");
    let arguments = [
        &*file,
        "--containers",
        "24",
        "--volume",
        "250ml",
        "--scale",
        "0.1g",
        "--density",
        "1.03",
        "--overfill",
        "1",
        "--loss",
        "2",
        "--json",
    ];
    let value: Value = serde_json::from_str(&make(&arguments)).unwrap();
    // 24 × 250 ml × 1.03 g/ml × 1.01 / 0.98 = 6369.18…, taken up to a tenth.
    assert_eq!(value["batch_g"], 6369.2);
    let mut tenths = 0;
    for phase in value["phases"].as_array().unwrap() {
        for entry in phase["entries"].as_array().unwrap() {
            if entry["do"] == "weigh" {
                let exact = entry["mass_g"].as_f64().unwrap() * 10.0;
                assert!((exact - exact.round()).abs() < 1e-6);
                tenths += exact.round() as i64;
            }
        }
    }
    assert_eq!(tenths, 63692);
}

/// Every heading that good manufacturing practice lists for a batch record (ISO 22716:2007,
/// restated as facts) has its place on the printed sheet, and every line of the formula is
/// there with its mass.
#[test]
fn the_printed_sheet_has_what_a_batch_record_needs() {
    let folder = tempfile::tempdir().unwrap();
    let file = example("calendula-hand-lotion");
    for paper in ["a4", "letter"] {
        let path = folder.path().join(format!("{paper}.pdf"));
        let out = path.display().to_string();
        let size = ["--containers", "24", "--volume", "250ml", "--scale", "0.1g"];
        let mut arguments = vec![&*file, "--pdf", &out, "--paper", paper];
        arguments.extend(size);
        make(&arguments);
        arguments.extend(["--json", "--replace"]);
        let value: Value = serde_json::from_str(&make(&arguments)).unwrap();
        let pages = pdf::pages(&std::fs::read(&path).unwrap());
        let all: Vec<&String> = pages.iter().flatten().collect();
        // A text that is broken over lines is joined again.
        let text = all.iter().map(|t| t.as_str()).collect::<Vec<_>>().join(" ");
        for heading in [
            // Formula and batch number.
            "Calendula hand lotion",
            "Batch code",
            // Line clearance, clean and suitable equipment.
            "Before you begin",
            "Vessel, tools and containers are clean and sanitised",
            // Raw materials with batch numbers and quantities.
            "Material",
            "To weigh",
            "Lot",
            "Weighed",
            // Detailed operations.
            "Phase A",
            "Melt everything",
            // In-process checks with what is acceptable.
            "Checks",
            "Acceptable",
            "5.20 (4.90 to 5.50)",
            // Packaging with its lots, batch number on each unit, filled quantity.
            "Filling and packaging",
            "Packaging",
            "The batch code goes on every unit.",
            "Filled mass, net",
            // Yield, reconciliation, retained sample.
            "Yield and reconciliation",
            "Keep a retained sample",
            // Deviations.
            "Remarks and deviations",
            // Decision by the responsible person.
            "Released",
            "On hold",
            "Rejected",
            "Responsible person",
        ] {
            assert!(text.contains(heading), "{paper}: no “{heading}” in {text}");
        }
        for phase in value["phases"].as_array().unwrap() {
            for entry in phase["entries"].as_array().unwrap() {
                if entry["do"] == "weigh" {
                    let name = entry["material"].as_str().unwrap();
                    assert!(text.contains(name), "{paper}: no “{name}” in {text}");
                    let mass = format!("{:.1} g", entry["mass_g"].as_f64().unwrap());
                    assert!(all.iter().any(|t| **t == mass), "{paper}: no {mass}");
                }
            }
        }
        let count = pages.len();
        for (i, page) in pages.iter().enumerate() {
            let numbering = format!("Page {} of {count}", i + 1);
            assert!(page.contains(&numbering), "{paper}: {numbering}");
        }
        look_at(&path, paper);
    }
}

/// What a batch record holds by the headings of ISO 22716:2007 (restated as facts) stands on
/// the printed record, with corrections and their old values; the same record gives the same
/// bytes.
#[test]
fn the_printed_record_has_what_a_batch_record_holds() {
    let folder = tempfile::tempdir().unwrap();
    let opening = batch::opening("26-047").unwrap();
    let mut file = RecordFile::create(folder.path(), opening, batch::AT, "Wren").unwrap();
    for (line, grams, lot) in [
        (10, "900 g", "WAT-1"),
        (11, "70 g", "GLY-OLD"),
        (12, "35 g", "URE-3"),
    ] {
        let event = Event::Weighed {
            line: ItemId(line),
            mass: mass(grams),
            lot: LotId::new(lot),
            remark: "".into(),
        };
        file.append(batch::AT, "Wren", event).unwrap();
    }
    let amended = Event::Amended {
        entry: 3,
        change: Change::Lot(LotId::new("GLY-7")),
        old: "GLY-OLD".into(),
        reason: "misread the can".into(),
    };
    let hold = Event::Decided {
        decision: Decision::Hold,
        reason: "urea is over".into(),
    };
    let packed = Event::Packed {
        what: "bottle 250 ml".into(),
        lot: "B-9".into(),
        used: 4,
        spoilt: 1,
    };
    let labelled = Event::Labelled {
        what: "front".into(),
        lot: "LAB-3".into(),
        code: "26-047".into(),
        date: "2028-06".into(),
        printed: 12,
        applied: 4,
        spoilt: 8,
    };
    for event in [amended, packed, labelled, hold] {
        file.append(batch::AT, "Fern", event).unwrap();
    }
    let source = file.path().display().to_string();
    drop(file);
    let mut before = None;
    for (paper, name) in [("a4", "one"), ("letter", "two"), ("a4", "three")] {
        let path = folder.path().join(format!("{name}.pdf"));
        let words = ["phasewright", "record", &source, "--paper", paper, "--pdf"];
        let words = words.into_iter().map(str::to_owned);
        let cli = Cli::parse_from(words.chain([path.display().to_string()]));
        let mut out = Vec::new();
        let code = headless::run_to(&cli.command.unwrap(), &mut out).unwrap();
        // Open points are told by the code, as in the other commands that find something.
        assert_eq!(code, headless::FOUND);
        let told = String::from_utf8(out).unwrap();
        assert!(told.contains("open: Urea is above its tolerance"), "{told}");
        let bytes = std::fs::read(&path).unwrap();
        let pages = pdf::pages(&bytes);
        let all: Vec<&str> = pages.iter().flatten().map(String::as_str).collect();
        let text = all.join(" ");
        for heading in [
            "26-047 · Heather rinse",
            "Weighed",
            "WAT-1",
            "GLY-7",
            "Checks against the specification",
            "Packaging, filling and yield",
            "bottle 250 ml, lot B-9: 4 used, 1 spoilt",
            "Deviations and open points",
            "Urea is above its tolerance: ",
            "LAB-3",
            "2028-06",
            "Corrections",
            "GLY-OLD",
            "misread the can",
            "on hold: urea is over",
            "Released by",
        ] {
            assert!(text.contains(heading), "{paper}: no “{heading}” in {text}");
        }
        look_at(&path, &format!("record-{paper}"));
        if paper == "a4" {
            match &before {
                None => before = Some(bytes),
                Some(first) => assert_eq!(*first, bytes),
            }
        }
    }
}

/// Paints the pages to `target/pictures`, to be looked at, and checks that none is empty.
/// Done only where `pdftoppm` is installed.
fn look_at(path: &Path, paper: &str) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/pictures");
    std::fs::create_dir_all(&folder).unwrap();
    let stem = folder.join(format!("weigh-sheet-{paper}"));
    let painted = Command::new("pdftoppm")
        .args(["-r", "70", "-png"])
        .arg(path)
        .arg(&stem)
        .status();
    let Ok(status) = painted else {
        eprintln!("note: pdftoppm is not installed, so the pages were not painted");
        return;
    };
    assert!(status.success());
    let first = folder.join(format!("weigh-sheet-{paper}-1.png"));
    let picture = image::open(first).unwrap().to_luma8();
    let dark = picture.pixels().filter(|p| p.0[0] < 128).count();
    assert!(
        dark > 2000,
        "the first page is nearly empty: {dark} dark pixels"
    );
}

/// A material to use up is named as people name it.
#[test]
fn a_stock_is_used_up_by_a_plain_name() {
    let gel = example("oat-and-juniper-shower-gel");
    for (name, whole) in [
        ("glycerin", "Glycerin 99.5 %"),
        ("water", "Water, demineralised"),
        ("juniper oil", "Juniper berry essential oil"),
        ("sodium-benzoate", "Sodium benzoate"),
    ] {
        let used = format!("{name}=300g");
        let printed = make(&[&gel, "--use-up", &used]);
        let told = format!("300.0 g of {whole} at");
        assert!(printed.contains(&told), "{printed}");
    }
}

#[test]
fn what_cannot_be_made_is_said_in_words() {
    let fails = |arguments: &[&str]| {
        let words = ["phasewright", "make"].iter().chain(arguments);
        let command = Cli::try_parse_from(words).unwrap().command.unwrap();
        headless::run_to(&command, &mut Vec::new()).unwrap_err().0
    };
    let gel = example("oat-and-juniper-shower-gel");
    assert!(fails(&[&example("broken")]).contains("bring the formula to 100"));
    assert!(fails(&[&gel, "--mass", "3 stone"]).contains("no unit known"));
    assert!(fails(&[&gel, "--scale", "fine"]).contains("fine"));
    assert!(fails(&[&gel, "--use-up", "urea=5g"]).contains("it uses:"));
    assert!(fails(&[&gel, "--use-up", "solution=5g"]).contains("may be any of these"));
    assert!(fails(&[&gel, "--mass", "-5g"]).contains("“-5g” is out of range"));
    for option in [
        ["--vessel=10l", "--vessel-fill=110"],
        ["--tolerance=500", "--unit=g"],
    ] {
        let words = ["phasewright", "make", &gel].into_iter().chain(option);
        let refused = Cli::try_parse_from(words)
            .map(drop)
            .unwrap_err()
            .to_string();
        assert!(refused.contains("from 0 % to 100 %"), "{refused}");
    }
}

/// Ends a process that records weighings 100 times at random moments, or as often as
/// `PHASEWRIGHT_KILLS` says. Whatever it had said
/// is recorded must be there, in order and unchanged, and the file must open.
#[test]
fn nothing_confirmed_is_lost_when_the_process_is_killed() {
    const KILLS_PER_BATCH: u32 = 20;
    let kills: u32 = std::env::var("PHASEWRIGHT_KILLS").map_or(100, |n| n.parse().unwrap());
    let mut state = 0x2026_1125_u64;
    let mut random = |below: u64| {
        // A linear congruential generator (D. E. Knuth, MMIX), so that a failure repeats.
        state = state
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        (state >> 33) % below
    };
    let mut recorded = 0;
    for _ in 0..kills / KILLS_PER_BATCH {
        let folder = tempfile::tempdir().unwrap();
        let mut confirmed = 0;
        for kill in 0..KILLS_PER_BATCH {
            let mut recorder = Command::new(env!("CARGO_BIN_EXE_recorder"))
                .arg(folder.path())
                .stdout(Stdio::piped())
                .spawn()
                .unwrap();
            let output = BufReader::new(recorder.stdout.take().unwrap());
            let mut numbers = output
                .lines()
                .map_while(Result::ok)
                .filter_map(|l| l.parse::<u64>().ok());
            // Every other process gets to work first, however slow the machine.
            let first = if kill % 2 == 1 {
                numbers.find(|&number| number > confirmed)
            } else {
                None
            };
            std::thread::sleep(Duration::from_micros(random(30_000)));
            recorder.kill().unwrap();
            recorder.wait().unwrap();
            let last = numbers.last().or(first);
            confirmed = confirmed.max(last.unwrap_or(0));
            check_record(folder.path(), confirmed);
        }
        recorded += confirmed;
    }
    assert!(recorded >= u64::from(kills / 2), "only {recorded} entries");
}

fn check_record(folder: &Path, confirmed: u64) {
    let found = record_file::read_folder(folder);
    assert!(found.unreadable.is_empty(), "{:?}", found.unreadable);
    if confirmed == 0 {
        return;
    }
    let (_, loaded): &(PathBuf, record_file::LoadedRecord) = &found.records[0];
    assert_eq!(loaded.faults, []);
    let entries = loaded.record.entries();
    assert!(entries.len() as u64 >= confirmed);
    for (i, entry) in entries.iter().enumerate().skip(1) {
        let number = i as u64 + 1;
        let Event::Weighed { mass, lot, .. } = &entry.event else {
            panic!("entry {number} is no weighing");
        };
        assert_eq!(*mass, batch::mass_of_entry(number));
        assert_eq!(lot.as_ref().unwrap().as_str(), format!("LOT-{number}"));
    }
}

#[test]
fn the_figures_of_a_batch_go_into_the_finished_formula() {
    let folder = tempfile::tempdir().unwrap();
    let path = example("oat-and-juniper-shower-gel");
    let (formula, _) = formula_file::open(Path::new(&path)).unwrap();
    let variant = formula.active().clone();
    let request = PlanRequest {
        size: SizeRequest::mass(mass("1 kg")),
        scales: vec![read_scale("0.1g").unwrap()],
        tolerance: PlanRequest::TOLERANCE,
    };
    let plan = plan(&formula, &variant, &request).unwrap();
    let code = BatchCode::new("26-047").unwrap();
    let opening = Opening::new(code, &formula, &variant, &plan, None, MassUnit::Gram);
    let at = "2026-06-01T09:00:00+02:00";
    let first = opening.lines[0];
    let mut record = RecordFile::create(folder.path(), opening, at, "Wren").unwrap();
    let weighed = Event::Weighed {
        line: first.line,
        mass: first.mass,
        lot: LotId::new("W-9"),
        remark: "".into(),
    };
    record.append(at, "Wren", weighed).unwrap();
    let record_path = record.path().to_path_buf();
    drop(record);
    let out = folder.path().join("gel.finished.ron");
    let finish = |file: &str| {
        let arguments = [
            "phasewright",
            "finish",
            file,
            "--replace",
            "-o",
            out.to_str().unwrap(),
            "--batch",
            record_path.to_str().unwrap(),
        ];
        let command = Cli::try_parse_from(arguments).unwrap().command.unwrap();
        headless::run_to(&command, &mut Vec::new())
    };
    assert_eq!(finish(&path).unwrap(), 0);
    let text = std::fs::read_to_string(&out).unwrap();
    let finished = finished::read(&text, "gel.finished.ron").unwrap();
    assert!(finished.intact);
    let row = |label: &str| finished.enclosed.batch.iter().find(|(l, _)| l == label);
    assert_eq!(row("batch").unwrap().1, "26-047");
    assert!(
        finished
            .enclosed
            .batch
            .iter()
            .any(|(_, v)| v.ends_with("lot W-9"))
    );
    // Made from this formula, not from another one.
    let error = finish(&example("moss-conditioner")).unwrap_err().0;
    assert!(error.contains("another state"), "{error}");
}

/// “1,000 g” once made a batch of one gram without a word.
#[test]
fn a_mass_that_can_mean_two_is_refused_with_both() {
    let file = example("oat-and-juniper-shower-gel");
    let refused = |wish: &[&str]| {
        let words = ["phasewright", "make", &file]
            .into_iter()
            .chain(wish.iter().copied());
        let command = Cli::try_parse_from(words).unwrap().command.unwrap();
        headless::run_to(&command, &mut Vec::new()).unwrap_err().0
    };
    for wish in [
        ["--mass", "1,000 g", "--scale", "0.1g"],
        ["--mass", "1.000 g", "--scale", "0.1g"],
    ] {
        let words = refused(&wish);
        assert!(words.contains("1 g") && words.contains("1000 g"), "{words}");
    }
    let price = [
        "phasewright",
        "aim",
        &file,
        "--target",
        "cost per 1,000 g <= 2",
    ];
    let command = Cli::try_parse_from(price).unwrap().command.unwrap();
    let words = headless::run_to(&command, &mut Vec::new()).unwrap_err().0;
    assert!(words.contains("1000 g"), "{words}");
}

/// What has no water has no pH to measure.
#[test]
fn a_sheet_asks_for_the_ph_of_what_has_water_only() {
    for (name, asked) in [
        ("heather-foot-balm", false),
        ("oat-and-juniper-shower-gel", true),
    ] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("../examples")
            .join(format!("{name}.formula.ron"));
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("sheet.csv");
        let words = ["phasewright", "make", path.to_str().unwrap(), "--csv"];
        let cli = Cli::parse_from(words.into_iter().chain([out.to_str().unwrap()]));
        headless::run_to(&cli.command.unwrap(), &mut Vec::new()).unwrap();
        let sheet = std::fs::read_to_string(&out).unwrap();
        assert!(sheet.contains("Odour"), "{sheet}");
        assert_eq!(sheet.contains("pH at 25"), asked, "{name}: {sheet}");
    }
}

/// Told to reckon with evaporation, a balm without water gets none, and says so; by its net mass
/// a container is as good as by its volume.
#[test]
fn no_water_is_made_up_in_a_balm() {
    let balm = example("heather-foot-balm");
    let made = |more: &[&str]| {
        let arguments = [&[&*balm, "--containers", "24", "--evaporation", "1"], more].concat();
        make(&arguments)
    };
    let sheet = made(&["--volume", "60ml"]);
    assert!(sheet.contains("the formula holds no water"), "{sheet}");
    assert!(!sheet.contains("Make up what has evaporated"), "{sheet}");
    assert!(!sheet.contains("is made up at the end"), "{sheet}");
    assert!(made(&["--volume", "60g"]).contains("24 × 60 g: "));
    let gel = example("oat-and-juniper-shower-gel");
    let sheet = make(&[&gel, "--evaporation", "1"]);
    assert!(sheet.contains("Make up what has evaporated"), "{sheet}");
    assert!(sheet.contains("Adjust the pH with "), "{sheet}");
}
