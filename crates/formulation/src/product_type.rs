//! Types of product that laws and standards tell apart.

use crate::kinds::ProductKind;

/// Where on the body a product is used.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
#[expect(missing_docs, reason = "`label` spells them out")]
pub enum BodySite {
    Body,
    Hands,
    Feet,
    Face,
    EyeArea,
    Lips,
    Scalp,
    Hair,
    Nails,
    Underarm,
    Mouth,
    Intimate,
}

impl BodySite {
    /// All places, in the order of display.
    pub const ALL: [Self; 12] = [
        Self::Body,
        Self::Hands,
        Self::Feet,
        Self::Face,
        Self::EyeArea,
        Self::Lips,
        Self::Scalp,
        Self::Hair,
        Self::Nails,
        Self::Underarm,
        Self::Mouth,
        Self::Intimate,
    ];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Body => "body",
            Self::Hands => "hands",
            Self::Feet => "feet",
            Self::Face => "face",
            Self::EyeArea => "eye area",
            Self::Lips => "lips",
            Self::Scalp => "scalp",
            Self::Hair => "hair",
            Self::Nails => "nails",
            Self::Underarm => "underarm",
            Self::Mouth => "mouth",
            Self::Intimate => "intimate area",
        }
    }
}

/// A type of product. Many limits differ by type; where none is stated, every
/// type that fits the kind of product and the place of use is held possible.
/// [`ProductType::Unlisted`] states that it is none of the others.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
#[expect(missing_docs, reason = "`label` spells them out")]
pub enum ProductType {
    ShowerGel,
    BarSoap,
    HandWash,
    FaceWash,
    Shampoo,
    HairConditioner,
    HairLeaveOn,
    HairSpray,
    HairDyeOxidative,
    HairDyeNonOxidative,
    HairWaving,
    BodyLotion,
    HandCream,
    FootCare,
    FaceCream,
    LipProduct,
    Deodorant,
    SunCare,
    SelfTan,
    Powder,
    FineFragrance,
    FragranceCream,
    FaceMakeUp,
    EyeMakeUp,
    MakeUpRemover,
    Eyelash,
    Shaving,
    Depilatory,
    CallusRemover,
    IntimateCare,
    Wipes,
    Toothpaste,
    Mouthwash,
    NailVarnish,
    NailHardener,
    ArtificialNails,
    NailCare,
    Unlisted,
}

impl ProductType {
    /// All types, in the order of display.
    pub const ALL: [Self; 38] = [
        Self::ShowerGel,
        Self::BarSoap,
        Self::HandWash,
        Self::FaceWash,
        Self::Shampoo,
        Self::HairConditioner,
        Self::HairLeaveOn,
        Self::HairSpray,
        Self::HairDyeOxidative,
        Self::HairDyeNonOxidative,
        Self::HairWaving,
        Self::BodyLotion,
        Self::HandCream,
        Self::FootCare,
        Self::FaceCream,
        Self::LipProduct,
        Self::Deodorant,
        Self::SunCare,
        Self::SelfTan,
        Self::Powder,
        Self::FineFragrance,
        Self::FragranceCream,
        Self::FaceMakeUp,
        Self::EyeMakeUp,
        Self::MakeUpRemover,
        Self::Eyelash,
        Self::Shaving,
        Self::Depilatory,
        Self::CallusRemover,
        Self::IntimateCare,
        Self::Wipes,
        Self::Toothpaste,
        Self::Mouthwash,
        Self::NailVarnish,
        Self::NailHardener,
        Self::ArtificialNails,
        Self::NailCare,
        Self::Unlisted,
    ];

    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::ShowerGel => "shower gel or bath product",
            Self::BarSoap => "bar soap",
            Self::HandWash => "hand wash",
            Self::FaceWash => "face wash",
            Self::Shampoo => "shampoo",
            Self::HairConditioner => "rinse-off hair conditioner",
            Self::HairLeaveOn => "leave-on hair product",
            Self::HairSpray => "hair spray",
            Self::HairDyeOxidative => "oxidative hair dye",
            Self::HairDyeNonOxidative => "non-oxidative hair dye",
            Self::HairWaving => "hair waving or straightening product",
            Self::BodyLotion => "body lotion, cream or oil",
            Self::HandCream => "hand cream",
            Self::FootCare => "foot care product",
            Self::FaceCream => "face cream, toner or oil",
            Self::LipProduct => "lip product",
            Self::Deodorant => "deodorant or antiperspirant",
            Self::SunCare => "sun care product",
            Self::SelfTan => "self-tanning product",
            Self::Powder => "loose powder",
            Self::FineFragrance => "alcohol-based fragrance",
            Self::FragranceCream => "fragrance cream",
            Self::FaceMakeUp => "face make-up",
            Self::EyeMakeUp => "eye make-up",
            Self::MakeUpRemover => "make-up remover",
            Self::Eyelash => "eyelash product",
            Self::Shaving => "shaving product",
            Self::Depilatory => "depilatory",
            Self::CallusRemover => "callus softener or remover",
            Self::IntimateCare => "intimate care product",
            Self::Wipes => "baby or intimate wipes",
            Self::Toothpaste => "toothpaste",
            Self::Mouthwash => "mouthwash",
            Self::NailVarnish => "nail varnish",
            Self::NailHardener => "nail hardener",
            Self::ArtificialNails => "artificial nail system",
            Self::NailCare => "nail or cuticle care product",
            Self::Unlisted => "none of these types",
        }
    }

    /// The kind such a product always has; `None` if both occur.
    pub const fn kind(self) -> Option<ProductKind> {
        use ProductKind::{LeaveOn, RinseOff};
        match self {
            Self::ShowerGel
            | Self::BarSoap
            | Self::HandWash
            | Self::Shampoo
            | Self::HairConditioner
            | Self::FaceWash
            | Self::HairDyeOxidative
            | Self::HairWaving
            | Self::Depilatory
            | Self::Toothpaste
            | Self::Mouthwash => Some(RinseOff),
            Self::HairLeaveOn
            | Self::HairSpray
            | Self::BodyLotion
            | Self::HandCream
            | Self::LipProduct
            | Self::Deodorant
            | Self::SunCare
            | Self::SelfTan
            | Self::Powder
            | Self::FineFragrance
            | Self::FragranceCream
            | Self::FaceMakeUp
            | Self::EyeMakeUp
            | Self::Wipes
            | Self::NailVarnish
            | Self::NailHardener
            | Self::ArtificialNails => Some(LeaveOn),
            Self::HairDyeNonOxidative
            | Self::FootCare
            | Self::FaceCream
            | Self::MakeUpRemover
            | Self::Eyelash
            | Self::Shaving
            | Self::CallusRemover
            | Self::IntimateCare
            | Self::NailCare
            | Self::Unlisted => None,
        }
    }

    /// The places one of which such a product is used on; empty if any.
    pub const fn places(self) -> &'static [BodySite] {
        use BodySite::{
            Body, EyeArea, Face, Feet, Hair, Hands, Intimate, Lips, Mouth, Nails, Scalp, Underarm,
        };
        match self {
            Self::ShowerGel => &[Body, Hair],
            Self::BarSoap => &[Body, Hands, Face, Hair],
            Self::HandWash | Self::HandCream => &[Hands],
            Self::FaceWash | Self::FaceCream => &[Face],
            Self::FaceMakeUp => &[Face, EyeArea, Lips],
            Self::MakeUpRemover => &[Face, EyeArea],
            Self::Shampoo
            | Self::HairConditioner
            | Self::HairLeaveOn
            | Self::HairSpray
            | Self::HairDyeOxidative
            | Self::HairDyeNonOxidative
            | Self::HairWaving => &[Hair, Scalp],
            Self::BodyLotion => &[Body],
            Self::FootCare | Self::CallusRemover => &[Feet, Hands],
            Self::LipProduct => &[Lips],
            Self::Deodorant => &[Underarm, Body, Feet],
            Self::SunCare | Self::SelfTan => &[Body, Face, Hands, Lips],
            Self::Powder => &[Body, Face, Feet, Hair, Scalp],
            Self::FineFragrance | Self::FragranceCream => &[Body, Face, Hands],
            Self::EyeMakeUp | Self::Eyelash => &[EyeArea],
            Self::Shaving | Self::Depilatory => &[Body, Face, Underarm, Intimate],
            Self::IntimateCare => &[Intimate],
            Self::Wipes => &[Intimate, Body, Face, Hands],
            Self::Toothpaste | Self::Mouthwash => &[Mouth],
            Self::NailVarnish | Self::NailHardener | Self::ArtificialNails | Self::NailCare => {
                &[Nails]
            }
            Self::Unlisted => &[],
        }
    }

    /// The places taken where none is stated: the first of [`Self::places`], of hair with
    /// the scalp.
    pub const fn usual_places(self) -> &'static [BodySite] {
        match self.places() {
            hair @ [BodySite::Hair, ..] => hair,
            [first, ..] => std::slice::from_ref(first),
            [] => &[],
        }
    }

    /// The word rules and files use: the label's sense in one hyphenated word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::ShowerGel => "shower-gel",
            Self::BarSoap => "bar-soap",
            Self::HandWash => "hand-wash",
            Self::FaceWash => "face-wash",
            Self::Shampoo => "shampoo",
            Self::HairConditioner => "hair-conditioner",
            Self::HairLeaveOn => "hair-leave-on",
            Self::HairSpray => "hair-spray",
            Self::HairDyeOxidative => "hair-dye-oxidative",
            Self::HairDyeNonOxidative => "hair-dye-non-oxidative",
            Self::HairWaving => "hair-waving",
            Self::BodyLotion => "body-lotion",
            Self::HandCream => "hand-cream",
            Self::FootCare => "foot-care",
            Self::FaceCream => "face-cream",
            Self::LipProduct => "lip-product",
            Self::Deodorant => "deodorant",
            Self::SunCare => "sun-care",
            Self::SelfTan => "self-tan",
            Self::Powder => "powder",
            Self::FineFragrance => "fine-fragrance",
            Self::FragranceCream => "fragrance-cream",
            Self::FaceMakeUp => "face-make-up",
            Self::EyeMakeUp => "eye-make-up",
            Self::MakeUpRemover => "make-up-remover",
            Self::Eyelash => "eyelash",
            Self::Shaving => "shaving",
            Self::Depilatory => "depilatory",
            Self::CallusRemover => "callus-remover",
            Self::IntimateCare => "intimate-care",
            Self::Wipes => "wipes",
            Self::Toothpaste => "toothpaste",
            Self::Mouthwash => "mouthwash",
            Self::NailVarnish => "nail-varnish",
            Self::NailHardener => "nail-hardener",
            Self::ArtificialNails => "artificial-nails",
            Self::NailCare => "nail-care",
            Self::Unlisted => "unlisted",
        }
    }

    /// The type of a word, see [`Self::word`].
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|t| t.word() == word)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_type_is_listed_once_and_found_by_its_word() {
        let mut all = ProductType::ALL.to_vec();
        all.sort();
        all.dedup();
        assert_eq!(all.len(), ProductType::ALL.len());
        for t in ProductType::ALL {
            assert_eq!(ProductType::from_word(t.word()), Some(t));
        }
    }
}
