//! What each line of a variant is there for: as the maker states it, else proposed from its
//! material, its level and the other lines.

use crate::formula::{Formula, Line, Variant};
use crate::material::Material;
use crate::purpose::{Purpose, PurposeGround, Served, possible};
use crate::quantity::Percent;

/// What the purposes of the lines of a variant depend on besides the line itself.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Setting {
    /// How many lines are surely there to preserve.
    preserving: usize,
}

impl Setting {
    /// Looks at a variant.
    pub fn of(formula: &Formula, variant: &Variant) -> Self {
        let lines = variant.lines();
        Self::of_lines(lines.map(|(_, l)| (l, formula.material(&l.material).map(AsRef::as_ref))))
    }

    /// Looks at lines with their materials, where these are at hand.
    pub fn of_lines<'l>(lines: impl Iterator<Item = (&'l Line, Option<&'l Material>)>) -> Self {
        let surely = |line: &Line, material: Option<&Material>| match line.purpose {
            Some(stated) => stated == Purpose::Preservative,
            None => material.is_some_and(|m| possible(m).eq([Purpose::Preservative])),
        };
        Self {
            preserving: lines
                .filter(|(l, m)| l.percent > Percent::ZERO && surely(l, *m))
                .count(),
        }
    }

    /// What a line is there for, with the material the formula carries for it.
    pub fn purpose_in(self, formula: &Formula, line: &Line) -> Served {
        self.purpose_with(line, formula.material(&line.material).map(AsRef::as_ref))
    }

    /// The same with its material, if that is at hand.
    pub fn purpose_with(self, line: &Line, material: Option<&Material>) -> Served {
        match material {
            Some(material) => self.purpose(line, material),
            None => Served {
                purpose: line.purpose.unwrap_or(Purpose::Other),
                ground: line
                    .purpose
                    .map_or(PurposeGround::Likely, |_| PurposeGround::Stated),
            },
        }
    }

    /// What a line is there for: as stated, else as its material, its level and the other
    /// lines suggest.
    ///
    /// A material that can preserve and do something else is taken as the other thing where
    /// its level is above what preserving needs and another line preserves.
    pub fn purpose(self, line: &Line, material: &Material) -> Served {
        if let Some(purpose) = line.purpose {
            return Served {
                purpose,
                ground: PurposeGround::Stated,
            };
        }
        let first = possible(material).next().unwrap_or(Purpose::Other);
        if possible(material).nth(1).is_none() {
            return Served {
                purpose: first,
                ground: PurposeGround::Only,
            };
        }
        let preserves = possible(material).any(|p| p == Purpose::Preservative);
        let over = material
            .preservation
            .as_ref()
            .is_some_and(|p| line.percent > p.dose_high);
        let purpose = match (preserves, over) {
            (true, true) if self.preserving > 0 => possible(material)
                .filter(|p| *p != Purpose::Preservative)
                // What acts on skin or hair is meant to, at such a level.
                .min_by_key(|p| *p != Purpose::Active)
                .unwrap_or(first),
            (true, _) => Purpose::Preservative,
            (false, _) => first,
        };
        Served {
            purpose,
            // Within the dose of a preservative nothing hangs on another purpose.
            ground: if preserves && !over {
                PurposeGround::Only
            } else {
                PurposeGround::Likely
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;
    use crate::evaluation::{Context, evaluate};
    use crate::file::formula_table;
    use crate::finding::{Level, Remedy, StatedField};
    use crate::formula::ProductType;
    use crate::material::Class;
    use crate::purpose::of_constituent;
    use crate::shelf;

    fn formula(kind: &str, rows: &str) -> Formula {
        let text = format!(
            "# kind: {kind}\n# market: EU\n# place: face\n# measured ph: 3.8\nphase,material,percent,purpose\nA,\"Water, demineralised\",q.s.,\n{rows}"
        );
        formula_table::read(&text, "x.csv", "x", shelf::built_in())
            .unwrap()
            .formula
    }

    /// The gravest finding on a rule.
    fn worst(formula: &Formula, rule: &str) -> Option<Level> {
        let context = Context::new(date(2026, 6, 1));
        let evaluation = evaluate(formula, formula.active(), &context);
        let findings = evaluation.findings.iter().filter(|f| &*f.rule == rule);
        findings.map(|f| f.level).max()
    }

    const BESIDE: &str = "P,Phenoxyethanol,0.9,\n";

    #[test]
    fn salicylic_acid_is_bound_by_what_it_is_there_for() {
        // Regulation (EC) No 1223/2009, Annex III, entry 98: 2 % for other purposes than
        // preserving; Annex V, entry 3: 0.5 % as a preservative.
        let row = |purpose: &str| format!("B,Salicylic acid,2,{purpose}\n{BESIDE}");
        let with = |purpose: &str| formula("rinse-off", &row(purpose));
        // Both are within the law: at most conditions to be read.
        assert!(worst(&with("active"), "EU V/3") < Some(Level::Caution));
        assert!(worst(&with("active"), "EU III/98") < Some(Level::Caution));
        assert_eq!(worst(&with("preservative"), "EU V/3"), Some(Level::Breach));
        assert!(worst(&with(""), "EU V/3") < Some(Level::Caution));
        // The purpose of III/98 still has its own limit.
        let more = formula(
            "leave-on",
            &format!("B,Salicylic acid,2.1,active\n{BESIDE}"),
        );
        assert_eq!(worst(&more, "EU III/98"), Some(Level::Breach));
    }

    #[test]
    fn what_alone_may_preserve_is_asked_for_its_purpose() {
        let alone = formula("rinse-off", "B,Salicylic acid,1.5,\n");
        let context = Context::new(date(2026, 6, 1));
        let evaluation = evaluate(&alone, alone.active(), &context);
        let asked = evaluation.findings.iter().find(|f| &*f.rule == "EU V/3");
        let asked = asked.unwrap();
        assert_eq!(asked.level, Level::Caution);
        assert!(matches!(
            asked.remedy,
            Some(Remedy::OpenField(StatedField::Purpose(_)))
        ));
    }

    #[test]
    fn benzyl_alcohol_is_free_as_a_solvent() {
        // Annex III, entry 45, has no limit; Annex V, entry 34, 1 % as a preservative.
        let with = |purpose: &str| {
            formula(
                "leave-on",
                &format!("B,Benzyl alcohol,2,{purpose}\n{BESIDE}"),
            )
        };
        for purpose in ["solvent", "fragrance", ""] {
            assert!(
                worst(&with(purpose), "EU V/34") < Some(Level::Breach),
                "{purpose}"
            );
        }
        assert_eq!(worst(&with("preservative"), "EU V/34"), Some(Level::Breach));
    }

    /// A blend of the maker's own whose first substance has many roles: Annex V, entry 34, 1 % of
    /// benzyl alcohol as a preservative. The roles say nothing, and nor does the class.
    #[test]
    fn a_blend_made_to_preserve_is_bound_as_a_preservative() {
        use crate::material::{Coverage, Preservation, Role, Source};
        for (class, of_line, expected) in [
            (Class::Preservative, None, Some(Level::Breach)),
            (Class::Fragrance, None, Some(Level::Breach)),
            (Class::Other, None, Some(Level::Breach)),
            (Class::Fragrance, Some(Purpose::Fragrance), None),
        ] {
            let rows = [
                ("Benzyl Alcohol", 60.0, class),
                ("Glycerin", 40.0, Class::Humectant),
            ];
            let mut blend = Material::clone(&crate::fixture::material("blend", &rows));
            blend.roles = vec![
                Role::Fragrance,
                Role::Preservative,
                Role::Solvent,
                Role::Thickener,
            ];
            blend.preservation = Some(Preservation {
                bacteria: Coverage::Good,
                yeast: Coverage::Good,
                mould: Coverage::Good,
                dose_low: "0.5".parse().unwrap(),
                dose_high: "1".parse().unwrap(),
                ph: None,
                formaldehyde_donor: false,
                source: Source::new(crate::material::Basis::Practice, ""),
            });
            let blend = std::sync::Arc::new(blend);
            let water = crate::fixture::material("water", &[("Aqua", 100.0, Class::Water)]);
            let (material, line) = crate::fixture::line(&blend, "2");
            let line = Line {
                purpose: of_line,
                ..line
            };
            let lines = vec![(material, line), crate::fixture::line(&water, "98")];
            let mut made = crate::fixture::formula(lines);
            let mut variant = Variant::clone(made.active());
            variant.product.markets = vec![crate::formula::Market::Eu];
            made.variants = vec![variant.into()];
            let found = worst(&made, "EU V/34").filter(|l| *l == Level::Breach);
            assert_eq!(found, expected, "{class:?} {of_line:?}");
        }
    }

    #[test]
    fn zinc_oxide_is_a_filter_only_where_it_filters() {
        // Annex VI, entry 30: 25 % as a UV filter; Annex IV, entry 144: no limit as a colorant.
        let with = |purpose: &str| {
            formula(
                "leave-on",
                &format!("B,Zinc oxide pigment,30,{purpose}\n{BESIDE}"),
            )
        };
        assert_eq!(worst(&with("colorant"), "EU VI/30"), None);
        assert_eq!(worst(&with("UV filter"), "EU VI/30"), Some(Level::Breach));
        let mut sun = with("");
        let mut variant = Variant::clone(sun.active());
        variant.product.product_type = Some(ProductType::SunCare);
        sun.variants = vec![variant.into()];
        assert_eq!(worst(&sun, "EU VI/30"), Some(Level::Breach));
    }

    #[test]
    fn the_preservative_of_a_raw_material_preserves_whatever_the_line_is_for() {
        let f = formula(
            "rinse-off",
            &format!("B,Benzyl alcohol,0.5,solvent\n{BESIDE}"),
        );
        let setting = Setting::of(&f, f.active());
        let mut surfactant = Material::unknown(crate::material::MaterialId::from_name("s"), "s");
        let blend = crate::fixture::material(
            "s",
            &[
                (
                    "Sodium Laureth Sulfate",
                    27.0,
                    Class::Surfactant(crate::material::Charge::Anionic),
                ),
                ("Sodium Benzoate", 0.5, Class::Preservative),
                ("Aqua", 72.5, Class::Water),
            ],
        );
        surfactant.constituents.clone_from(&blend.constituents);
        let (_, line) = crate::fixture::line(&blend, "30");
        let line = Line {
            purpose: Some(Purpose::Surfactant),
            ..line
        };
        let served = setting.purpose(&line, &surfactant);
        let of = |i: usize| of_constituent(served, 0.725, &surfactant.constituents[i]);
        assert_eq!(of(0).purpose, Purpose::Surfactant);
        assert_eq!(of(1).purpose, Purpose::Preservative);
        assert_eq!(of(1).ground, PurposeGround::Only);
    }

    #[test]
    fn words_name_purposes() {
        for purpose in Purpose::ALL {
            assert_eq!(Purpose::named(purpose.label()), Some(purpose));
        }
        assert_eq!(Purpose::named("uv-filter"), Some(Purpose::UvFilter));
        assert_eq!(Purpose::named("colour of the sea"), None);
    }
}
