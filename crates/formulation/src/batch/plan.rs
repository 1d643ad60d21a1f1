//! The plan of a batch: its size, and what to weigh of every line on which scale.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::mass::ExactMass;
use super::premix::{self, Premix};
use super::rounding::{RoundedLine, Rounding, RoundingError, round_with_filler};
use super::scale::{BatchSize, SizeError, SizeRequest, Sized, Towards, size, to_step};
use super::weighing_scale::{WeighingScale, choose};
use crate::composition::compose;
use crate::formula::{Formula, ItemId, Line, Phase, Variant};
use crate::material::MaterialId;
use crate::quantity::{MassFraction, Percent};

/// What a plan is made from.
#[derive(Clone, PartialEq, Debug)]
pub struct PlanRequest {
    /// How large the batch is.
    pub size: SizeRequest,
    /// The scales of the workshop; at least one.
    pub scales: Vec<WeighingScale>,
    /// How far a weighing may be off, as a share of the line, above 0.
    pub tolerance: MassFraction,
}

impl PlanRequest {
    /// The tolerance proposed: one percent of each line, common practice without a source.
    pub const TOLERANCE: MassFraction = MassFraction::from_percent(1.0);
}

/// A line too small to be weighed well on the scale it falls to.
#[derive(Clone, PartialEq, Debug)]
pub struct TooSmall {
    /// The least that can be weighed there within the tolerance.
    pub least: ExactMass,
    /// How far the reading may be off, as a share of the line.
    pub reading_error: MassFraction,
    /// The step of a scale that would weigh it within the tolerance.
    pub step_needed: ExactMass,
    /// The smallest batch in which it could be weighed on this scale.
    pub batch_needed: ExactMass,
    /// A dilution that brings it above the least; `None` if no liquid of the batch suits
    /// it or has enough to lend. All dilutions of a plan can be made together.
    pub premix: Option<Premix>,
}

/// What to weigh of one line.
#[derive(Clone, PartialEq, Debug)]
pub struct PlannedLine {
    /// The line.
    pub line: ItemId,
    /// Its phase.
    pub phase: ItemId,
    /// Its material.
    pub material: MaterialId,
    /// The material's name.
    pub name: Arc<str>,
    /// Its percentage.
    pub percent: Percent,
    /// What the percentage asks for.
    pub exact: ExactMass,
    /// What to weigh, a whole number of steps of the scale.
    pub mass: ExactMass,
    /// Place of the scale in the request.
    pub scale: usize,
    /// In how many portions; more than one if no scale bears it at once.
    pub portions: u32,
    /// How far `mass` is from `exact`, as a share of `exact`, with sign.
    pub rounding_error: MassFraction,
    /// By how much the weighing may deviate: the tolerance in whole steps of the scale, so that
    /// what is shown is what is held against, but at least one step.
    pub tolerance: ExactMass,
    /// What to do if it is too small for the scale.
    pub too_small: Option<TooSmall>,
}

/// The plan of a batch.
#[derive(Clone, PartialEq, Debug)]
pub struct BatchPlan {
    /// Its size.
    pub sized: Sized,
    /// Lines above 0 %, in working order.
    pub lines: Vec<PlannedLine>,
    /// The scales, as requested.
    pub scales: Vec<WeighingScale>,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum BatchPlanError {
    /// An unfinished formula.
    #[error("the lines add up to {0} %, not 100; bring the formula to 100 before making it")]
    TotalNot100(Percent),
    /// No size.
    #[error(transparent)]
    Size(#[from] SizeError),
    /// No rounding.
    #[error(transparent)]
    Rounding(#[from] RoundingError),
    /// A tolerance of nothing, or of more than the line.
    #[error("a tolerance of {0} % is out of range; enter more than 0 and at most 100")]
    Tolerance(Percent),
}

impl BatchPlan {
    /// The plan of a line.
    pub fn line(&self, id: ItemId) -> Option<&PlannedLine> {
        self.lines.iter().find(|l| l.line == id)
    }

    /// What the batch takes of each material, water to make up for evaporation not counted.
    pub fn needs(&self) -> BTreeMap<MaterialId, ExactMass> {
        let mut needs = BTreeMap::new();
        for line in &self.lines {
            *needs
                .entry(line.material.clone())
                .or_insert(ExactMass::ZERO) += line.mass;
        }
        needs
    }
}

/// Plans a batch of a variant.
pub fn plan(
    formula: &Formula,
    variant: &Variant,
    request: &PlanRequest,
) -> Result<BatchPlan, BatchPlanError> {
    let total = variant.total();
    if total != Percent::HUNDRED {
        return Err(BatchPlanError::TotalNot100(total));
    }
    let tolerance = Percent::nearest(request.tolerance.as_percent()).unwrap_or_default();
    if tolerance <= Percent::ZERO || tolerance > Percent::HUNDRED {
        return Err(BatchPlanError::Tolerance(tolerance));
    }
    let laid: Vec<_> = variant
        .lines()
        .filter(|(_, l)| l.percent > Percent::ZERO)
        .collect();
    let water = compose(formula, variant).water().typical;
    let (sized, rounding) = size_and_round((variant, water), request, &laid)?;
    let mut lines: Vec<PlannedLine> = laid
        .iter()
        .zip(&rounding.lines)
        .filter_map(|((phase, line), rounded)| {
            let name = formula
                .material(&line.material)
                .map_or_else(|| line.material.as_str().into(), |m| m.name.clone());
            planned_line(phase.id, line, name, rounded, request)
        })
        .collect();
    propose_premixes(
        formula,
        variant,
        &request.scales,
        &rounding.lines,
        &mut lines,
    );
    Ok(BatchPlan {
        sized,
        lines,
        scales: request.scales.clone(),
    })
}

/// The size of the batch in steps of the scales, and what is weighed of each line that is
/// laid out.
fn size_and_round(
    (variant, water): (&Variant, MassFraction),
    request: &PlanRequest,
    laid: &[(&Arc<Phase>, &Line)],
) -> Result<(Sized, Rounding), BatchPlanError> {
    let scales = &request.scales;
    let finest = scales
        .iter()
        .map(WeighingScale::resolution)
        .min()
        .ok_or(RoundingError::NoScale)?;
    let mut sized = size(variant, water, &request.size, finest)?;
    let percents: Vec<Percent> = laid.iter().map(|(_, l)| l.percent).collect();
    let filler = laid.iter().position(|(_, l)| variant.is_filler(l.id));
    // The size goes in steps of the finest scale that really comes into use.
    let used = percents
        .iter()
        .filter_map(|p| {
            let exact = sized
                .batch
                .ratio(p.units().into(), Percent::HUNDRED.units().into());
            scales.get(choose(scales, exact)?)
        })
        .map(WeighingScale::resolution)
        .min()
        .unwrap_or(finest);
    if used > finest {
        sized = size(variant, water, &request.size, used)?;
    }
    let mut rounding = round_with_filler(&percents, filler, sized.batch, scales)?;
    if let BatchSize::UseUp {
        material,
        available,
        ..
    } = &request.size.size
    {
        // Rounding may ask for a step more than there is; a slightly smaller batch does not.
        let taken = |rounding: &Rounding| -> ExactMass {
            rounding
                .lines
                .iter()
                .zip(laid)
                .filter(|(_, (_, l))| l.material == *material)
                .map(|(r, _)| r.mass)
                .sum()
        };
        while taken(&rounding) > *available && sized.batch > used {
            sized.batch -= used;
            rounding = round_with_filler(&percents, filler, sized.batch, scales)?;
        }
    }
    if rounding.total != sized.batch {
        sized.working.push(format!(
            "the scales can show {} g, which is the batch",
            rounding.total
        ));
        sized.batch = rounding.total;
    }
    Ok((sized, rounding))
}

/// A line as it is weighed; none if its scale is not there.
fn planned_line(
    phase: ItemId,
    line: &Line,
    name: Arc<str>,
    rounded: &RoundedLine,
    request: &PlanRequest,
) -> Option<PlannedLine> {
    let scale = request.scales.get(rounded.scale)?;
    let least = scale.least_mass(request.tolerance);
    let wanted =
        ExactMass::nearest(rounded.exact.mass() * request.tolerance.value()).unwrap_or_default();
    let too_small = (rounded.exact < least).then(|| TooSmall {
        least,
        reading_error: scale
            .reading_error(rounded.exact)
            .unwrap_or(MassFraction::ONE),
        step_needed: wanted,
        batch_needed: to_step(
            least.ratio(Percent::HUNDRED.units().into(), line.percent.units().into()),
            scale.resolution(),
            Towards::More,
        ),
        premix: None,
    });
    let off = rounded.mass - rounded.exact;
    Some(PlannedLine {
        line: line.id,
        phase,
        material: line.material.clone(),
        name,
        percent: line.percent,
        exact: rounded.exact,
        mass: rounded.mass,
        scale: rounded.scale,
        portions: scale.portions(rounded.mass),
        rounding_error: off.share_of(rounded.exact).unwrap_or_default(),
        tolerance: to_step(wanted, scale.resolution(), Towards::Less).max(scale.resolution()),
        too_small,
    })
}

/// Proposes dilutions, for the line that would err most first; what one takes of its
/// carrier is no longer there for the next.
fn propose_premixes(
    formula: &Formula,
    variant: &Variant,
    scales: &[WeighingScale],
    rounded: &[RoundedLine],
    lines: &mut [PlannedLine],
) {
    let mut free: BTreeMap<ItemId, ExactMass> = lines.iter().map(|l| (l.line, l.mass)).collect();
    let mut places: Vec<usize> = (0..lines.len()).collect();
    places.sort_by_key(|&n| lines.get(n).map(|l| l.exact));
    for place in places {
        let (Some(line), Some(rounded)) = (lines.get_mut(place), rounded.get(place)) else {
            continue;
        };
        let (Some(small), Some(scale)) = (&mut line.too_small, scales.get(line.scale)) else {
            continue;
        };
        small.premix = premix::propose(
            formula,
            variant,
            line.line,
            *rounded,
            scale,
            small.least,
            |id| free.get(&id).copied().unwrap_or_default(),
        );
        if let Some(premix) = &small.premix
            && let Some(left) = free.get_mut(&premix.carrier_line)
        {
            *left -= premix.carrier_less;
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::fixture;
    use crate::mass::read_mass;
    use crate::material::{Class, Material, MaterialId, PhaseKind, WettingMedium};
    use proptest::prelude::*;

    fn mass(text: &str) -> ExactMass {
        read_mass(text, None).unwrap()
    }
    fn scale(resolution: &str, capacity: Option<&str>) -> WeighingScale {
        WeighingScale::new("scale", mass(resolution), capacity.map(mass)).unwrap()
    }
    fn formula() -> Formula {
        let water = fixture::material("water", &[("Aqua", 100.0, Class::Water)]);
        let glycerin = fixture::material("glycerin", &[("Glycerin", 100.0, Class::Humectant)]);
        let colour = fixture::material("colour", &[("CI 42090", 100.0, Class::Colour)]);
        fixture::formula(vec![
            fixture::line(&water, "89.995"),
            fixture::line(&glycerin, "10"),
            fixture::line(&colour, "0.005"),
        ])
    }
    fn request(size: BatchSize, scales: Vec<WeighingScale>) -> PlanRequest {
        PlanRequest {
            size: SizeRequest {
                size,
                ..SizeRequest::mass(ExactMass::ZERO)
            },
            scales,
            tolerance: PlanRequest::TOLERANCE,
        }
    }

    #[test]
    fn a_premix_is_made_in_what_mixes_with_the_material() {
        let mut formula = formula();
        let variant = formula.active().clone();
        let carrier = |formula: &Formula| {
            let request = request(BatchSize::Mass(mass("1 kg")), vec![scale("0.01 g", None)]);
            let plan = plan(formula, &variant, &request).unwrap();
            let small = plan.lines[2].too_small.as_ref().unwrap();
            small.premix.as_ref().map(|p| p.carrier.to_string())
        };
        assert_eq!(carrier(&formula).as_deref(), Some("water"));
        let change = |formula: &mut Formula, change: &dyn Fn(&mut Material)| {
            let colour = formula.materials.get_mut(&MaterialId::from_name("colour"));
            change(Arc::make_mut(colour.unwrap()));
        };
        // What lumps in water is stirred into glycerin.
        change(&mut formula, &|m| {
            m.wet_with = vec![WettingMedium::Humectant];
        });
        assert_eq!(carrier(&formula).as_deref(), Some("glycerin"));
        // What belongs into the oil phase finds no carrier here.
        change(&mut formula, &|m| {
            m.wet_with.clear();
            m.phase = Some(PhaseKind::Oil);
        });
        assert_eq!(carrier(&formula), None);
    }

    /// 0.57 g of allantoin (Merck Index) and 0.02 g of biotin dissolve in 100 g of water, both of
    /// `assets/rules/compatibility.ron`, which takes 0.55 g of allantoin.
    #[test]
    fn a_premix_in_water_is_no_stronger_than_what_dissolves() {
        let times = |inci: &str, step: &str| {
            let water = fixture::material("water", &[("Aqua", 100.0, Class::Water)]);
            let small = fixture::material("small", &[(inci, 100.0, Class::Other)]);
            let formula = fixture::formula(vec![
                fixture::line(&water, "99.98"),
                fixture::line(&small, "0.02"),
            ]);
            let request = request(BatchSize::Mass(mass("500 g")), vec![scale(step, None)]);
            let plan = plan(&formula, formula.active(), &request).unwrap();
            let small = plan.lines[1].too_small.as_ref().unwrap();
            small.premix.as_ref().map(|p| p.times)
        };
        // 0.1 g: on this scale anything is weighed from 1 g on.
        assert_eq!(times("Panthenol", "0.01 g"), Some(10));
        assert_eq!(times("Allantoin", "0.01 g"), Some(200));
        assert_eq!(times("Biotin", "0.01 g"), None);
    }

    #[test]
    fn a_pinch_of_colour_is_proposed_as_a_dilution() {
        let formula = formula();
        let request = request(BatchSize::Mass(mass("1 kg")), vec![scale("0.1 g", None)]);
        let plan = plan(&formula, formula.active(), &request).unwrap();
        assert_eq!(plan.sized.batch, mass("1 kg"));
        let colour = &plan.lines[2];
        assert_eq!(colour.exact, mass("0.05 g"));
        let too_small = colour.too_small.as_ref().unwrap();
        assert_eq!(too_small.least, mass("10 g"));
        assert!((too_small.reading_error.as_percent() - 200.0).abs() < 1e-9);
        let premix = too_small.premix.as_ref().unwrap();
        // 0.05 g × 200 is the first of the series to reach 10 g.
        assert_eq!(premix.times, 200);
        assert_eq!(premix.take, mass("10 g"));
        assert_eq!(premix.weigh, mass("10 g"));
        assert_eq!(premix.weigh_carrier, mass("1990 g"));
        assert_eq!(premix.left_over, mass("1990 g"));
        assert_eq!(premix.carrier.as_ref(), "water");
        // The swap leaves the batch as it was.
        assert_eq!(premix.take - premix.carrier_less, colour.mass);
    }

    #[test]
    fn dilutions_do_not_take_more_than_there_is() {
        let water = fixture::material("water", &[("Aqua", 100.0, Class::Water)]);
        let mut lines = vec![fixture::line(&water, "96")];
        for (n, name) in ["red", "green", "blue", "grey"].iter().enumerate() {
            let colour = fixture::material(name, &[("CI 42090", 100.0, Class::Colour)]);
            lines.push(fixture::line(&colour, ["0.4", "0.6", "0.9", "0.1"][n]));
        }
        let scent = fixture::material("scent", &[("Linalool", 100.0, Class::Fragrance)]);
        lines.push(fixture::line(&scent, "2"));
        let formula = fixture::formula(lines);
        let request = request(BatchSize::Mass(mass("50 g")), vec![scale("0.1 g", None)]);
        let plan = plan(&formula, formula.active(), &request).unwrap();
        let premixes: Vec<_> = plan
            .lines
            .iter()
            .filter_map(|l| l.too_small.as_ref()?.premix.as_ref())
            .collect();
        let lent: ExactMass = premixes.iter().map(|p| p.carrier_less).sum();
        // 48 g of water are weighed, of which 10 g have to stay to be weighed well.
        assert!(lent <= mass("38 g"), "{lent}");
        assert!((1..4).contains(&premixes.len()));
        // The smallest line comes first; an essential oil does not go into water.
        let of = |n: usize| plan.lines[n].too_small.as_ref().unwrap();
        assert!(of(4).premix.is_some());
        assert_eq!(of(5).premix, None);
        assert_eq!(of(5).batch_needed, mass("500 g"));
    }

    #[test]
    fn a_tolerance_is_a_share() {
        let formula = formula();
        let mut request = request(BatchSize::Mass(mass("1 kg")), vec![scale("0.1 g", None)]);
        for percent in [0.0, 101.0] {
            request.tolerance = MassFraction::from_percent(percent);
            assert!(matches!(
                plan(&formula, formula.active(), &request),
                Err(BatchPlanError::Tolerance(_))
            ));
        }
    }

    #[test]
    fn a_tolerance_is_whole_steps_within_its_share() {
        let formula = formula();
        let step = mass("0.1 g");
        for size in ["1 kg", "1035 g", "777.7 g"] {
            let request = request(BatchSize::Mass(mass(size)), vec![scale("0.1 g", None)]);
            let plan = plan(&formula, formula.active(), &request).unwrap();
            for line in &plan.lines {
                let share = line.exact.ratio(1, 100);
                assert_eq!(line.tolerance.femtograms() % step.femtograms(), 0);
                assert!(line.tolerance <= share.max(step), "{line:?}");
                assert!(line.tolerance + step > share, "{line:?}");
            }
        }
    }

    #[test]
    fn a_finer_scale_takes_the_small_lines() {
        let formula = formula();
        let request = request(
            BatchSize::Mass(mass("1 kg")),
            vec![scale("0.1 g", None), scale("0.0005 g", Some("20 g"))],
        );
        let plan = plan(&formula, formula.active(), &request).unwrap();
        assert_eq!(plan.lines[2].scale, 1);
        assert_eq!(plan.lines[2].mass, mass("0.05 g"));
        assert!(plan.lines[2].too_small.is_none());
    }

    #[test]
    fn an_unfinished_formula_is_not_made() {
        let water = fixture::material("water", &[("Aqua", 100.0, Class::Water)]);
        let formula = fixture::formula(vec![fixture::line(&water, "99")]);
        let request = request(BatchSize::Mass(mass("1 kg")), vec![scale("0.1 g", None)]);
        assert_eq!(
            plan(&formula, formula.active(), &request),
            Err(BatchPlanError::TotalNot100("99".parse().unwrap()))
        );
    }

    proptest! {
        #[test]
        fn a_stock_is_never_overdrawn(milligrams in 20_000_i128..2_000_000) {
            let formula = formula();
            let available = mass("0.001 g").times(milligrams);
            let size = BatchSize::UseUp {
                material: MaterialId::from_name("glycerin"),
                name: "glycerin".into(),
                available,
            };
            let plan = plan(&formula, formula.active(), &request(size, vec![scale("0.1 g", None)])).unwrap();
            prop_assert!(plan.lines[1].mass <= available);
            prop_assert!(available - plan.lines[1].mass <= mass("0.3 g"));
            let sum: ExactMass = plan.lines.iter().map(|l| l.mass).sum();
            prop_assert_eq!(plan.sized.batch, sum);
        }
    }
}
