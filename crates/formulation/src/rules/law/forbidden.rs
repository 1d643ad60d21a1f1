//! Whether a raw material may be in a product at all, asked before it is put there.

use std::sync::Arc;

use super::check;
use crate::finding::{Finding, Level};
use crate::formula::{Date, Formula, ItemId, Line, Product, Variant};
use crate::material::Material;
use crate::quantity::Percent;
use crate::rules::RuleBook;

/// The breach that any amount of a raw material is in a product, whatever the rest of the formula
/// is; none where no such rule is known, which does not say that it is allowed.
///
/// The smallest amount that can be written is held against the lists as the only line of a
/// product, so what hangs on other lines, on the pH or on amounts is not told.
pub fn forbidden(
    product: &Product,
    material: &Arc<Material>,
    today: Date,
    book: &RuleBook,
) -> Option<Finding> {
    let mut formula = Formula::new("");
    let id = material.id.clone();
    formula.materials.insert(id.clone(), Arc::clone(material));
    let mut variant = Variant::clone(formula.active());
    variant.product = product.clone();
    let line = Line {
        id: ItemId(0),
        material: id,
        percent: Percent::STEP,
        why: "".into(),
        held: false,
        min: None,
        max: None,
        purpose: None,
    };
    Arc::make_mut(variant.phases.first_mut()?).lines.push(line);
    let law = check(&formula, &variant, None, today, book);
    (law.findings.into_iter()).find(|f| f.level == Level::Breach && !f.lines.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::{BodySite, ProductType};
    use crate::material::ProductKind;
    use crate::rules::law::tests::{TODAY, law, product};

    /// Methylchloroisothiazolinone with methylisothiazolinone, and the latter alone, are for
    /// products that are rinsed off: Regulation (EC) No 1223/2009, Annex V, entries 39 and 57,
    /// as amended by Regulations (EU) No 1003/2014 and 2016/1198; etidronic acid is for hair and
    /// soap, dihydroxyacetone for hair dyes and self-tanning, alpha-arbutin for creams of the
    /// face and lotions of the body, homosalate for the face: Annex III, entries 53, 322 and
    /// 377, and Annex VI, entry 3. Whatever is told is a breach once it is there.
    #[test]
    fn what_a_product_may_not_hold_is_told_before_it_does() {
        let book = RuleBook::shared();
        let shelf = crate::shelf::built_in::shelf();
        let told = |product: Product| -> Vec<&str> {
            let mut names = Vec::new();
            for material in shelf.iter() {
                if forbidden(&product, material, TODAY, &book).is_some() {
                    let lines = vec![(Material::clone(material), 0.001)];
                    let law = law(product.clone(), lines);
                    let breach = law.findings.iter().any(|f| f.level == Level::Breach);
                    assert!(breach, "{}", material.name);
                    names.push(&*material.name);
                }
            }
            names
        };
        let (hair, face) = (&[BodySite::Scalp][..], &[BodySite::Face][..]);
        let shampoo = product(ProductKind::RinseOff, hair, Some(ProductType::Shampoo));
        assert_eq!(
            told(shampoo),
            ["Alpha-arbutin", "Dihydroxyacetone", "Homosalate"]
        );
        let cream = product(ProductKind::LeaveOn, face, Some(ProductType::FaceCream));
        let leave_on = [
            "Dihydroxyacetone",
            "Etidronic acid 60 %",
            "Methylchloroisothiazolinone and methylisothiazolinone 3:1, 1.5 %",
            "Methylisothiazolinone solution 9.5 %",
            "Tetrasodium etidronate 30 %",
        ];
        assert_eq!(told(cream), leave_on);
    }
}
