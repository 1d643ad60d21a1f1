//! What a remedy does: the edits behind the button of a finding.

use std::sync::Arc;

use crate::edit::{Edit, GiveWay};
use crate::finding::{Finding, Remedy, StatedField};
use crate::formula::{Formula, ItemId, Kinds, Phase, Variant};
use crate::material::{Material, PhaseKind, Role};
use crate::notation::role_words::is_staple;
use crate::quantity::Percent;
use crate::shelf::Shelf;

/// Most materials offered for a role; the search box of the window knows the others.
pub const MOST_CHOICES: usize = 8;

/// What has to happen when the button of a finding is pressed.
#[derive(Clone, PartialEq, Debug)]
pub enum Act {
    /// These edits, as one step.
    Edit(Vec<Edit>),
    /// The maker chooses one of these; empty if the shelf has nothing that fits.
    Choose(Vec<RemedyMaterial>),
    /// The maker chooses another material for this line.
    Swap(ItemId),
    /// A field is opened.
    Open(StatedField),
    /// The maker sees what brings the pH to the one aimed at, see [`crate::ph_dose`].
    AdjustPh,
}

/// A material that may be added.
#[derive(Clone, PartialEq, Debug)]
pub struct RemedyMaterial {
    /// The material.
    pub material: Arc<Material>,
    /// The percentage at which it is added: the middle of its usual range.
    pub percent: Percent,
    /// The edits that add it, as one step.
    pub edits: Vec<Edit>,
}

/// What the remedy of a finding does to a variant.
///
/// None if there is no remedy, or if what it speaks of is no longer there.
pub fn act(finding: &Finding, formula: &Formula, variant: &Variant, shelf: &Shelf) -> Option<Act> {
    Some(match finding.remedy.as_ref()? {
        Remedy::HoldAtLimit { line, percent } => {
            let present = variant.line(*line)?;
            let mut edits = set(variant, *line, percent.down_to_hundredths());
            if !variant.is_filler(*line) {
                edits.push(Edit::SetHeld {
                    line: *line,
                    held: true,
                });
            }
            if present.why.is_empty() {
                edits.push(Edit::SetWhy {
                    line: *line,
                    why: format!("Held at the limit of {}", finding.rule).into(),
                });
            }
            Act::Edit(edits)
        }
        Remedy::SetPercent { line, percent } => {
            variant.line(*line)?;
            Act::Edit(set(variant, *line, *percent))
        }
        Remedy::MoveToPhase { line, kind } => {
            variant.line(*line)?;
            let (mut edits, phase, at) = phase_of_kind_or_new(formula, variant, *kind);
            edits.push(Edit::MoveLine {
                line: *line,
                phase,
                at,
            });
            Act::Edit(edits)
        }
        Remedy::WetFirst { line, medium } => {
            let phase = variant.phase_of(*line)?.id;
            variant.line(*medium)?;
            let to = |line: ItemId, at: usize| Edit::MoveLine { line, phase, at };
            Act::Edit(vec![to(*medium, 0), to(*line, 1)])
        }
        Remedy::AddMaterial { role } => Act::Choose(choices(*role, formula, variant, shelf)),
        Remedy::SwapMaterial { line } => {
            variant.line(*line)?;
            Act::Swap(*line)
        }
        Remedy::OpenField(field) => Act::Open(*field),
        Remedy::AdjustPh => Act::AdjustPh,
    })
}

fn set(variant: &Variant, line: ItemId, percent: Percent) -> Vec<Edit> {
    vec![Edit::SetPercent {
        line,
        percent,
        // The filler cannot take what is asked of itself.
        give: if variant.is_filler(line) {
            GiveWay::All
        } else {
            GiveWay::Filler
        },
    }]
}

/// The last phase of a kind and the place after its last line, with the edit that makes the
/// phase if there is none: what is added at the end stands after it.
///
/// Unlike [`Variant::phase_for`] it never takes a phase of another kind: a remedy is taken over
/// with one click, and what must stay cool does not go where it is hot.
fn phase_of_kind_or_new(
    formula: &Formula,
    variant: &Variant,
    kind: PhaseKind,
) -> (Vec<Edit>, ItemId, usize) {
    if let Some(phase) = variant.phases.iter().rfind(|p| p.kind == kind) {
        return (Vec::new(), phase.id, phase.lines.len());
    }
    let last = variant.phases.len();
    let at = (variant.phases.iter())
        .position(|p| p.kind == PhaseKind::Adjust && kind != PhaseKind::Adjust)
        .unwrap_or(last);
    let made = Edit::AddPhase {
        at,
        kind,
        purpose: "".into(),
    };
    // The formula gives its next id to what is made first.
    (vec![made], ItemId(formula.next_id), 0)
}

/// Materials of the shelf that do something in a formula and for which a usual range in this kind
/// of product is known: first what most makers have, then those whose main task it is; none that
/// is in it already.
fn choices(role: Role, formula: &Formula, variant: &Variant, shelf: &Shelf) -> Vec<RemedyMaterial> {
    let kinds = variant.product.kinds;
    let present = |m: &Material| variant.lines().any(|(_, l)| l.material == m.id);
    let mut fitting: Vec<&Arc<Material>> = shelf
        .iter()
        .filter(|m| m.has_role(role) && !present(m) && usual(m, kinds).is_some())
        .collect();
    let place = |m: &Material| m.roles.iter().position(|&r| r == role);
    fitting.sort_by_cached_key(|m| {
        let rank = (!is_staple(m), place(m), m.roles.len());
        (rank, m.name.clone())
    });
    fitting.truncate(MOST_CHOICES);
    fitting
        .into_iter()
        .filter_map(|material| {
            let percent = usual(material, kinds)?;
            let edits = added(formula, variant, material, percent);
            Some(RemedyMaterial {
                material: material.clone(),
                percent,
                edits,
            })
        })
        .collect()
}

/// The edits that add a material where it belongs, with the phase made if it is missing.
pub(crate) fn added(
    formula: &Formula,
    variant: &Variant,
    material: &Arc<Material>,
    percent: Percent,
) -> Vec<Edit> {
    let (mut edits, phase, at) = match (material.phase, variant.phase_for(material)) {
        (None, Some(usual)) => (Vec::new(), usual.id, usual.lines.len()),
        (Some(kind), Some(usual)) if is_watery(kind) && is_cold_and_watery(usual) => {
            (Vec::new(), usual.id, usual.lines.len())
        }
        (kind, _) => {
            let kind = kind.unwrap_or(PhaseKind::Other);
            phase_of_kind_or_new(formula, variant, kind)
        }
    };
    edits.push(Edit::AddLine {
        phase,
        at,
        material: material.clone(),
        percent,
    });
    edits
}

/// Whether a kind of phase is worked with water.
const fn is_watery(kind: PhaseKind) -> bool {
    use PhaseKind::{Slurry, Surfactant, Water};
    matches!(kind, Water | Slurry | Surfactant)
}

/// Whether what goes into water may go into a phase as well as into one of its own.
fn is_cold_and_watery(phase: &Phase) -> bool {
    is_watery(phase.kind) && phase.hottest().is_none()
}

/// The middle of the strictest usual range in a product of these kinds, on the step of the percentages.
fn usual(material: &Material, kinds: Kinds) -> Option<Percent> {
    let range = material.strictest_range(kinds)?;
    let middle = Percent::from_units(i64::midpoint(range.low.units(), range.high.units()));
    (middle > Percent::ZERO).then(|| middle.down_to_hundredths())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::apply;
    use crate::finding::{Level, Matter};
    use crate::fixture::{line, material, phased};
    use crate::material::{Basis, Class, ProductKind, Source, UseRange};

    const WATER: ItemId = ItemId(10);
    const ACID: ItemId = ItemId(11);

    fn wash() -> Formula {
        let water = material("Water", &[("Aqua", 100.0, Class::Water)]);
        let acid = material("Acid", &[("Benzoic Acid", 100.0, Class::Preservative)]);
        let mut formula = phased(vec![vec![line(&water, "99"), line(&acid, "1")]]);
        let mut variant = formula.active().as_ref().clone();
        variant.filler = Some(WATER);
        formula.variants = vec![variant.into()];
        formula
    }

    fn finding(remedy: Remedy) -> Finding {
        let source = Source::new(Basis::Practice, "invented");
        Finding::new(Level::Breach, "X/1", "too much", source)
            .about(Matter::line(ACID))
            .remedy(remedy)
    }

    /// The formula after the edits of a remedy.
    fn after(formula: &Formula, remedy: Remedy, shelf: &Shelf) -> Formula {
        match act(&finding(remedy), formula, formula.active(), shelf) {
            Some(Act::Edit(edits)) => done(formula, &edits),
            Some(Act::Choose(choices)) => done(formula, &choices[0].edits),
            other => panic!("{other:?}"),
        }
    }

    fn done(formula: &Formula, edits: &[Edit]) -> Formula {
        edits.iter().fold(formula.clone(), |f, edit| {
            apply(&f, f.active().id, edit).unwrap().formula
        })
    }

    #[test]
    fn a_line_is_held_at_or_below_its_limit() {
        for (limit, reached) in [("0.5", "0.5"), ("0.847457", "0.84"), ("0.0015", "0.0015")] {
            let percent = limit.parse().unwrap();
            let remedy = Remedy::HoldAtLimit {
                line: ACID,
                percent,
            };
            let mended = after(&wash(), remedy, &Shelf::new());
            let line = mended.active().line(ACID).unwrap();
            assert_eq!(line.percent, reached.parse().unwrap(), "{limit}");
            assert!(line.held);
            assert_eq!(&*line.why, "Held at the limit of X/1");
            assert_eq!(mended.active().total(), Percent::HUNDRED);
        }
    }

    #[test]
    fn the_makers_own_reason_stays() {
        let mut formula = wash();
        let why = Edit::SetWhy {
            line: ACID,
            why: "against mould".into(),
        };
        formula = done(&formula, &[why]);
        let percent = "0.5".parse().unwrap();
        let remedy = Remedy::HoldAtLimit {
            line: ACID,
            percent,
        };
        let mended = after(&formula, remedy, &Shelf::new());
        assert_eq!(&*mended.active().line(ACID).unwrap().why, "against mould");
    }

    #[test]
    fn a_line_moves_to_the_phase_that_is_there_or_is_made() {
        let remedy = || Remedy::MoveToPhase {
            line: ACID,
            kind: PhaseKind::CoolDown,
        };
        let once = after(&wash(), remedy(), &Shelf::new());
        assert_eq!(once.active().phases.len(), 2);
        let phase = once.active().phase_of(ACID).unwrap();
        assert_eq!(phase.kind, PhaseKind::CoolDown);
        // A second one goes into the same phase.
        let water = Remedy::MoveToPhase {
            line: WATER,
            kind: PhaseKind::CoolDown,
        };
        let twice = after(&once, water, &Shelf::new());
        assert_eq!(twice.active().phases.len(), 2);
        assert_eq!(
            twice.active().phase_of(WATER).unwrap().id,
            twice.active().phase_of(ACID).unwrap().id
        );
    }

    #[test]
    fn what_is_missing_is_chosen_from_the_shelf_at_its_usual_range() {
        let chelator = |name: &str, low: &str, high: &str, roles: &[Role]| {
            let mut m = Material::clone(&material(name, &[("X", 100.0, Class::Chelator)]));
            m.roles = roles.to_vec();
            m.phase = Some(PhaseKind::CoolDown);
            m.use_ranges = vec![UseRange {
                kind: ProductKind::RinseOff,
                low: low.parse().unwrap(),
                high: high.parse().unwrap(),
                supplier_maximum: false,
                source: Source::new(Basis::Practice, "invented"),
            }];
            Arc::new(m)
        };
        let mut shelf = Shelf::new();
        shelf.insert(chelator(
            "A side task",
            "1",
            "2",
            &[Role::Acid, Role::Chelator],
        ));
        shelf.insert(chelator("Main task", "0.05", "0.2", &[Role::Chelator]));
        shelf.insert(chelator("Another task", "1", "2", &[Role::Acid]));
        let mut formula = wash();
        let mut variant = formula.active().as_ref().clone();
        variant.product.kinds = ProductKind::RinseOff.into();
        formula.variants = vec![variant.into()];
        let remedy = Remedy::AddMaterial {
            role: Role::Chelator,
        };
        let Some(Act::Choose(offered)) =
            act(&finding(remedy.clone()), &formula, formula.active(), &shelf)
        else {
            panic!("no choice");
        };
        let names: Vec<&str> = offered.iter().map(|c| &*c.material.name).collect();
        assert_eq!(names, ["Main task", "A side task"]);
        let mended = after(&formula, remedy.clone(), &shelf);
        let (phase, added) = mended.active().lines().last().unwrap();
        assert_eq!(added.percent, "0.12".parse().unwrap());
        assert_eq!(phase.kind, PhaseKind::CoolDown);
        assert_eq!(mended.active().total(), Percent::HUNDRED);
        // What is there is not offered again.
        let again = act(&finding(remedy), &mended, mended.active(), &shelf);
        assert!(matches!(again, Some(Act::Choose(c)) if c.len() == 1));
    }

    #[test]
    fn what_most_makers_have_is_offered_first() {
        let mut formula = wash();
        let mut variant = formula.active().as_ref().clone();
        variant.product.kinds = ProductKind::RinseOff.into();
        formula.variants = vec![variant.into()];
        let role = Role::Preservative;
        let remedy = finding(Remedy::AddMaterial { role });
        let shelf = crate::shelf::built_in();
        let Some(Act::Choose(offered)) = act(&remedy, &formula, formula.active(), shelf) else {
            panic!("no choice");
        };
        let names: Vec<&str> = offered.iter().map(|c| &*c.material.name).collect();
        let staples = ["Sodium benzoate", "Potassium sorbate", "Phenoxyethanol"];
        assert!(staples.iter().all(|s| names[..3].contains(s)), "{names:?}");
    }

    /// A gel is begun without a water phase; its slurry takes what goes into water.
    #[test]
    fn what_goes_into_water_goes_into_a_cold_slurry() {
        let mut formula = wash();
        let mut variant = formula.active().as_ref().clone();
        variant.product.kinds = ProductKind::RinseOff.into();
        let mut phase = variant.phases[0].as_ref().clone();
        phase.kind = PhaseKind::Slurry;
        variant.phases = vec![phase.into()];
        formula.variants = vec![variant.into()];
        let role = Role::Preservative;
        let remedy = finding(Remedy::AddMaterial { role });
        let shelf = crate::shelf::built_in();
        let phases = |formula: &Formula| {
            let Some(Act::Choose(offered)) = act(&remedy, formula, formula.active(), shelf) else {
                panic!("no choice");
            };
            let benzoate = offered
                .iter()
                .find(|c| &*c.material.name == "Sodium benzoate");
            done(formula, &benzoate.unwrap().edits)
                .active()
                .phases
                .len()
        };
        assert_eq!(phases(&formula), 1);
        // Not where it is hot.
        let mut variant = formula.active().as_ref().clone();
        let mut phase = variant.phases[0].as_ref().clone();
        phase.temperature = Some(crate::quantity::celsius(75.0));
        variant.phases = vec![phase.into()];
        formula.variants = vec![variant.into()];
        assert_eq!(phases(&formula), 2);
    }

    #[test]
    fn a_line_that_is_gone_has_no_remedy() {
        let gone = ItemId(999);
        let percent = Percent::ZERO;
        for remedy in [
            Remedy::HoldAtLimit {
                line: gone,
                percent,
            },
            Remedy::SetPercent {
                line: gone,
                percent,
            },
            Remedy::SwapMaterial { line: gone },
        ] {
            let formula = wash();
            let act = act(&finding(remedy), &formula, formula.active(), &Shelf::new());
            assert_eq!(act, None);
        }
    }
}
