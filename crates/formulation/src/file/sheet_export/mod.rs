//! The weigh sheet as JSON, CSV, text and HTML, and the recipe as Markdown for publishing.

mod csv;
mod html;
mod json;
mod markdown;
mod text;

pub use self::csv::csv;
pub use self::html::html;
pub use self::json::{SCHEMA, json};
pub use self::markdown::markdown;
pub use self::text::text;
use crate::batch::weigh_sheet::{WeighSheet, Weighing};

fn lot_words(sheet: &WeighSheet, w: &Weighing) -> String {
    match w.lots.as_slice() {
        [(lot, _)] => lot.to_string(),
        lots => lots
            .iter()
            .map(|(lot, mass)| format!("{lot}: {}", sheet.shown(*mass, w.resolution)))
            .collect::<Vec<_>>()
            .join("; "),
    }
}

/// Heads the readings that go with a recipe.
const MEASURED: &str = "Measured on trials of exactly this composition";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::plan::{PlanRequest, plan};
    use crate::batch::record::tests::opening;
    use crate::batch::scale::SizeRequest;
    use crate::batch::weigh_sheet::{Heading, weigh_sheet};
    use crate::formula::Formula;
    use crate::mass::read_mass;

    fn sheet(change: impl FnOnce(&mut Formula)) -> WeighSheet {
        let opening = opening("26-001");
        let mut formula = opening.formula.as_ref().clone();
        change(&mut formula);
        let request = PlanRequest {
            size: SizeRequest::mass(read_mass("1 kg", None).unwrap()),
            scales: opening.scales.clone(),
            tolerance: PlanRequest::TOLERANCE,
        };
        let variant = formula.active().clone();
        let plan = plan(&formula, &variant, &request).unwrap();
        weigh_sheet(&formula, &variant, plan, Heading::default(), None)
    }

    #[test]
    fn json_names_every_line_with_its_mass() {
        let sheet = sheet(|_| {});
        let value: serde_json::Value = serde_json::from_str(&json(&sheet, None)).unwrap();
        assert_eq!(value["schema"], SCHEMA);
        let entries = value["phases"][0]["entries"].as_array().unwrap();
        assert_eq!(entries.len(), 2);
        let total: f64 = entries.iter().map(|e| e["mass_g"].as_f64().unwrap()).sum();
        assert!((total - value["batch_g"].as_f64().unwrap()).abs() < 1e-9);
        assert_eq!(entries[1]["do"], "weigh");
    }

    #[test]
    fn csv_reads_back_row_by_row() {
        let text = csv(&sheet(|_| {})).unwrap();
        let mut reader = ::csv::Reader::from_reader(text.as_bytes());
        let rows: Vec<::csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        assert_eq!(&rows[0][3], "Water");
        assert_eq!(&rows[0][6], "800.0");
        assert_eq!(&rows[1][6], "200.0");
        assert!(rows.iter().any(|r| &r[2] == "check"));
    }

    /// What stops a sale, and how long the product keeps, stands on every paper.
    #[test]
    fn breach_and_expiry_stand_on_every_paper() {
        use crate::batch::weigh_sheet::TRIAL_NOTICE;
        use crate::label_info::Durability;
        let mut sheet = sheet(|f| {
            let mut variant = f.active().as_ref().clone();
            let mut label = variant.label.as_ref().clone();
            label.durability = Durability::BestBefore(jiff::civil::date(2028, 6, 30));
            variant.label = std::sync::Arc::new(label);
            f.variants = vec![std::sync::Arc::new(variant)];
        });
        let breach = "too much of it";
        sheet.heading.breaches = vec![breach.to_owned()];
        for (paper, text) in [
            ("csv", csv(&sheet).unwrap()),
            ("html", html(&sheet)),
            ("json", json(&sheet, None)),
            ("markdown", markdown(&sheet)),
            ("text", text(&sheet, None)),
        ] {
            assert!(text.contains(breach), "{paper}");
            assert!(
                text.contains("best used before the end of 06/2028"),
                "{paper}"
            );
            let told = match paper {
                "csv" => text.contains("not for sale"),
                "json" => text.contains("not_for_sale"),
                _ => text.contains(TRIAL_NOTICE),
            };
            assert!(told, "{paper}");
        }
    }

    #[test]
    fn names_cannot_break_out_of_a_page() {
        let sheet = sheet(|f| f.name = "<b>Oat & *juniper*</b> | x".into());
        let page = html(&sheet);
        assert!(page.contains("&lt;b&gt;Oat &amp; *juniper*&lt;/b&gt; | x"));
        assert!(!page.contains("<b>Oat"));
        assert!(markdown(&sheet).contains(r"\<b\>Oat & \*juniper\*\</b\> \| x"));
    }

    #[test]
    fn markdown_gives_percentages_masses_and_reasons() {
        let sheet = sheet(|f| {
            let mut variant = f.active().as_ref().clone();
            let mut phase = variant.phases[0].as_ref().clone();
            phase.lines[1].why = "keeps moist".into();
            variant.phases[0] = std::sync::Arc::new(phase);
            f.variants = vec![std::sync::Arc::new(variant)];
        });
        let text = markdown(&sheet);
        assert!(text.contains("| Glycerin | Glycerin | 20 | 200.0 g | keeps moist |"));
        assert!(text.contains("1. Weigh phase A: Water, Glycerin."));
    }
}
