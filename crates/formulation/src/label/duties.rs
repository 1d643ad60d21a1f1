//! What a label must carry beside the ingredient list, market by market, and what is
//! still missing.
//!
//! European Union and United Kingdom: Regulation (EC) No 1223/2009, Article 19 (as
//! assimilated law in Great Britain). United States: 21 CFR parts 701 and 740, and the
//! Federal Food, Drug, and Cosmetic Act as amended by the Modernization of Cosmetics
//! Regulation Act of 2022. Restated from general knowledge; the official text decides.

use crate::chemistry::soap::Making;
use crate::evaluation::Evaluation;
use crate::formula::{Formula, Market, Variant};
use crate::label_info::{BestBefore, Durability, LabelInfo, NetContents};
use crate::material::Class;
use crate::quantity::{in_grams, in_millilitres};
use crate::rules::GREAT_BRITAIN;
use crate::rules::scope::Truth;
use crate::substance_words::is_soap;

use super::net_contents;

/// What a part of the label beside the ingredient list is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum SectionKind {
    /// That the product is more than a cosmetic.
    Border,
    /// The name of the product.
    Name,
    /// What the product is.
    Function,
    /// How much of it is in a pack.
    NetContents,
    /// How it is used.
    Directions,
    /// A wording that a rule demands.
    Warning,
    /// A caution of the maker's own.
    Caution,
    /// How long it keeps once opened.
    AfterOpening,
    /// The month at whose end it is no longer at its best.
    BestBefore,
    /// The day until which it keeps.
    BestBeforeDay,
    /// The code of the batch.
    Batch,
    /// Who answers for it.
    ResponsiblePerson,
    /// Who made it, as the United States ask.
    MadeBy,
    /// Where adverse events are reported in the United States.
    Contact,
    /// Where it was made.
    Country,
}

impl SectionKind {
    /// Its name beside its words.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Border => "Not a complete label",
            Self::Name => "Name",
            Self::Function => "Function",
            Self::NetContents => "Net contents",
            Self::Directions => "Directions",
            Self::Warning => "Warning",
            Self::Caution => "Caution",
            Self::AfterOpening => "Period after opening",
            Self::BestBefore => "Best used before the end of",
            Self::BestBeforeDay => "Best used before",
            Self::Batch => "Batch",
            Self::ResponsiblePerson => "Responsible person",
            Self::MadeBy => "Made by",
            Self::Contact => "Contact",
            Self::Country => "Country of origin",
        }
    }

    /// Whether its words are printed alone, without the title before them.
    pub const fn is_bare(self) -> bool {
        match self {
            Self::Name
            | Self::Function
            | Self::NetContents
            | Self::Directions
            | Self::Warning
            | Self::Caution
            | Self::ResponsiblePerson
            | Self::MadeBy
            | Self::Contact
            | Self::Country => true,
            Self::Border
            | Self::AfterOpening
            | Self::BestBefore
            | Self::BestBeforeDay
            | Self::Batch => false,
        }
    }
}

/// A part of the label beside the ingredient list.
#[derive(Clone, PartialEq, Debug)]
pub struct LabelSection {
    /// What it is.
    pub kind: SectionKind,
    /// The words for the label.
    pub text: String,
    /// Where it is demanded, or that it is the maker's own.
    pub ground: String,
}

/// Something that the maker states for a label, and that a label may lack.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Stated {
    /// What the product is.
    Function,
    /// How much of it is in a pack.
    NetContents,
    /// Area of the main panel.
    MainPanel,
    /// Height of the small letters.
    Letters,
    /// How long it keeps.
    Durability,
    /// The code of the batch.
    BatchCode,
    /// Who answers for it.
    ResponsiblePerson,
    /// Who answers for it in the United Kingdom, where it is another.
    ResponsiblePersonUk,
    /// Where adverse events are reported in the United States.
    UsContact,
    /// Where it was made.
    Country,
}

/// Something a label lacks.
#[derive(Clone, PartialEq, Debug)]
pub struct Missing {
    /// What is missing and what to do.
    pub what: String,
    /// Where it is demanded.
    pub ground: String,
    /// The law demands it; otherwise it is advised.
    pub required: bool,
    /// What the maker states to mend it; `None` where that is no part of the label's own data.
    pub stated: Option<Stated>,
}

/// Something to mind when the label is made.
#[derive(Clone, PartialEq, Debug)]
pub struct Advice {
    /// In a sentence.
    pub text: String,
    /// Its ground.
    pub ground: String,
}

/// What stands on the label, what is missing, what to mind.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Duties {
    /// In the order of the label.
    pub sections: Vec<LabelSection>,
    /// What is missing.
    pub missing: Vec<Missing>,
    /// What to mind.
    pub advice: Vec<Advice>,
}

const MAKER: &str = "the maker's own";

/// Draws up the parts of a label.
pub fn duties(
    formula: &Formula,
    variant: &Variant,
    evaluation: &Evaluation,
    market: Market,
) -> Duties {
    let mut made = Duties::default();
    let info = &variant.label;
    borders(&mut made, evaluation, market);
    let stated = info.product_name.trim();
    let name = if stated.is_empty() {
        &formula.name
    } else {
        &info.product_name
    };
    made.say(SectionKind::Name, name.to_string(), MAKER);
    function(&mut made, info, market);
    net(&mut made, variant, market, &article(market, "(b)"));
    if !info.directions.trim().is_empty() {
        made.say(SectionKind::Directions, info.directions.to_string(), MAKER);
    }
    warnings(&mut made, evaluation, market, &article(market, "(d)"));
    if market == Market::Uk {
        made.advise(GREAT_BRITAIN, &article(market, ""));
    }
    for caution in &info.cautions {
        made.say(SectionKind::Caution, caution.to_string(), MAKER);
    }
    durability(&mut made, variant, market, &article(market, "(c)"));
    batch_code(&mut made, info, market);
    responsible_person(&mut made, variant, market);
    if market == Market::Us {
        us_contact(&mut made, info);
        us_soap(&mut made, evaluation);
    }
    country(&mut made, info, market);
    made
}

/// The article of the Union's regulation, or of what stands in Great Britain, that asks for a
/// part of the label.
pub(super) fn article(market: Market, point: &str) -> String {
    let regulation = if market == Market::Uk {
        "Regulation (EC) No 1223/2009 as it stands in Great Britain"
    } else {
        "Regulation (EC) No 1223/2009"
    };
    format!("{regulation}, Article 19(1){point}")
}

fn function(made: &mut Duties, info: &LabelInfo, market: Market) {
    let us = market == Market::Us;
    let ground = if us {
        "21 CFR 701.11, identity of the product on the main panel".to_owned()
    } else {
        article(market, "(f)")
    };
    if info.function.trim().is_empty() {
        made.lack(
            "The function of the product is not stated; say what it is, unless its presentation makes it clear",
            &ground,
            us,
            Stated::Function,
        );
    } else {
        made.say(SectionKind::Function, info.function.to_string(), &ground);
    }
}

fn batch_code(made: &mut Duties, info: &LabelInfo, market: Market) {
    let us = market == Market::Us;
    let stated = !info.batch_code.trim().is_empty();
    let ground = match (us, stated) {
        (true, true) => "good practice".to_owned(),
        (true, false) => "good practice; a recall cannot do without it".to_owned(),
        (false, _) => article(market, "(e)"),
    };
    if stated {
        made.say(SectionKind::Batch, info.batch_code.to_string(), &ground);
    } else {
        made.lack(
            "The batch code is not stated; write the code, or where on the pack it stands",
            &ground,
            !us,
            Stated::BatchCode,
        );
    }
}

/// Who answers for the product in a market: the one stated for it, else the one that there is.
pub fn person_named(info: &LabelInfo, market: Market) -> &str {
    let own = match market {
        Market::Eu => "",
        Market::Uk => info.responsible_person_uk.trim(),
        Market::Us => info.made_by_us.trim(),
    };
    if own.is_empty() {
        info.responsible_person.trim()
    } else {
        own
    }
}

fn responsible_person(made: &mut Duties, variant: &Variant, market: Market) {
    let info = &variant.label;
    let us = market == Market::Us;
    let ground = if us {
        "21 CFR 701.12, name and place of business of manufacturer, packer or distributor"
            .to_owned()
    } else {
        article(market, "(a)")
    };
    let person = person_named(info, market);
    if person.is_empty() {
        let what = if us {
            "Name and place of business of the manufacturer, packer or distributor are missing"
        } else {
            "Name and address of the responsible person are missing"
        };
        made.lack(what, &ground, true, Stated::ResponsiblePerson);
        return;
    }
    let kind = if us {
        SectionKind::MadeBy
    } else {
        SectionKind::ResponsiblePerson
    };
    made.say(kind, person.to_owned(), &ground);
    let in_both = [Market::Eu, Market::Uk]
        .iter()
        .all(|m| variant.product.markets.contains(m));
    if !us && in_both && info.responsible_person_uk.trim().is_empty() {
        made.lack(
            "One responsible person is stated for the European Union and the United Kingdom, and one person cannot be established in both; state another for the United Kingdom",
            &ground,
            false,
            Stated::ResponsiblePersonUk,
        );
    }
    made.advise(
        match market {
            Market::Eu => "The responsible person must be established in the European Union.",
            Market::Uk => "The responsible person must be established in the United Kingdom.",
            Market::Us => "Where the firm named is not the manufacturer, add “Manufactured for” or “Distributed by”.",
        },
        &ground,
    );
}

fn us_contact(made: &mut Duties, info: &LabelInfo) {
    let ground =
        "Federal Food, Drug, and Cosmetic Act, section 609(a), in force since 29 December 2024";
    if info.us_contact.trim().is_empty() {
        made.lack(
            "A US address, US telephone number or electronic contact for reports of adverse events is missing",
            ground,
            true,
            Stated::UsContact,
        );
    } else {
        made.say(SectionKind::Contact, info.us_contact.to_string(), ground);
    }
}

/// Says that soap which is nothing else is no cosmetic in the United States; whether this is such
/// depends on what it is sold as.
fn us_soap(made: &mut Duties, evaluation: &Evaluation) {
    let estimates = &evaluation.estimates;
    let from_lye = (estimates.soap.as_ref()).is_some_and(|s| s.making == Making::Saponified);
    let (mut soaps, mut others, mut washes) = (0.0, 0.0, false);
    for c in &evaluation.mixture.contributions {
        let share = c.by_component.typical.value();
        if is_soap(c.inci.spelling()) {
            soaps += share;
        } else if c.class != Class::Water {
            others += share;
            washes |= matches!(c.class, Class::Surfactant(_)) && share > 0.0;
        }
    }
    if (from_lye || soaps > others) && !washes {
        made.advise(
            "Soap that is mostly alkali salts of fatty acids, washes by them alone, and is labelled, sold and represented only as soap is no cosmetic in the United States: what is called required here, the list of ingredients, its type size and the contact for adverse events among it, is then not demanded. What is said of the product decides whether it is such.",
            "21 CFR 701.20; Federal Food, Drug, and Cosmetic Act, section 201(i)(2); from general knowledge",
        );
    }
}

fn country(made: &mut Duties, info: &LabelInfo, market: Market) {
    let ground = if market == Market::Us {
        "19 U.S.C. 1304, for imported goods".to_owned()
    } else {
        article(market, "(a), for imported products")
    };
    if info.country.trim().is_empty() {
        made.lack(
            "The country of origin is not stated; imported products need it",
            &ground,
            false,
            Stated::Country,
        );
    } else {
        let words = format!("Made in {}", info.country);
        made.say(SectionKind::Country, words, &ground);
    }
}

impl Duties {
    fn say(&mut self, kind: SectionKind, text: String, ground: &str) {
        self.sections.push(LabelSection {
            kind,
            text,
            ground: ground.to_owned(),
        });
    }

    fn lack(
        &mut self,
        what: &str,
        ground: &str,
        required: bool,
        stated: impl Into<Option<Stated>>,
    ) {
        self.missing.push(Missing {
            what: what.to_owned(),
            ground: ground.to_owned(),
            required,
            stated: stated.into(),
        });
    }

    fn advise(&mut self, text: &str, ground: &str) {
        self.advice.push(Advice {
            text: text.to_owned(),
            ground: ground.to_owned(),
        });
    }
}

fn net(made: &mut Duties, variant: &Variant, market: Market, article: &str) {
    let us = market == Market::Us;
    let ground = if us { net_contents::US_SOURCE } else { article };
    let info = &variant.label;
    let Some(net) = info.net_contents else {
        made.lack(
            if us {
                "Net contents are missing"
            } else {
                "Net contents are missing; only packs under 5 g or 5 ml, free samples and single-use packs go without"
            },
            ground,
            true,
            Stated::NetContents,
        );
        return;
    };
    made.say(
        SectionKind::NetContents,
        net_contents::words(net, market),
        ground,
    );
    if let Some(note) = net_contents::filling_note(net, market) {
        made.advise(&note, net_contents::source(market));
    }
    match net_contents::least_figure_height_mm(net, market, info.panel_area_cm2) {
        Some(height) => made.advise(
            &format!("The figures of the net contents must be at least {height:.2} mm high."),
            net_contents::source(market),
        ),
        None if us => made.lack(
            "The area of the main panel is not stated; the type size of the net contents depends on it",
            net_contents::US_SOURCE,
            false,
            Stated::MainPanel,
        ),
        None => {}
    }
    let tiny = match net {
        NetContents::Mass(mass) => in_grams(mass) < 5.0,
        NetContents::Volume(volume) => in_millilitres(volume) < 5.0,
        NetContents::Pieces(_) => false,
    };
    if tiny && !us {
        made.advise(
            "Packs under 5 g or 5 ml need not state their contents.",
            article,
        );
    }
}

/// Where the product is more than a cosmetic, that stands before everything else.
fn borders(made: &mut Duties, evaluation: &Evaluation, market: Market) {
    for demand in &evaluation.demands {
        if demand.border && demand.markets.contains(&market) {
            let ground = format!("{}: {}", demand.rule, demand.source.text);
            made.say(SectionKind::Border, demand.text.to_string(), &ground);
        }
    }
}

/// Wordings that rules demand of this formula.
fn warnings(made: &mut Duties, evaluation: &Evaluation, market: Market, article: &str) {
    for demand in evaluation
        .demands
        .iter()
        .filter(|d| d.markets.contains(&market) && !d.border)
    {
        let ground = format!("{}: {}", demand.rule, demand.source.text);
        match demand.certain {
            Truth::Yes => made.say(SectionKind::Warning, demand.text.to_string(), &ground),
            Truth::Maybe => made.lack(
                &format!(
                    "This wording may be needed: “{}” ({})",
                    demand.text, demand.condition
                ),
                &ground,
                false,
                None,
            ),
            Truth::No => {}
        }
    }
    if market != Market::Us {
        made.advise(
            "Other precautions for use that the safety assessment finds needed belong on the label too.",
            article,
        );
    }
}

fn durability(made: &mut Duties, variant: &Variant, market: Market, article: &str) {
    let us = market == Market::Us;
    let ground = if us {
        "not demanded in the United States unless the product is also a drug"
    } else {
        article
    };
    match &variant.label.durability {
        Durability::Unstated => made.lack(
            "How long the product keeps is not stated: a period after opening if it keeps more than 30 months, a date of best use otherwise",
            ground,
            !us,
            Stated::Durability,
        ),
        Durability::AfterOpening(months) => {
            made.say(SectionKind::AfterOpening, format!("{months} M"), ground);
            if !us {
                made.advise(
                    "The period stands beside the symbol of the open jar; it is used where the product keeps more than 30 months unopened.",
                    ground,
                );
            }
        }
        Durability::BestBefore(date) => match BestBefore::of(*date) {
            BestBefore::EndOf(month) => made.say(SectionKind::BestBefore, month, ground),
            BestBefore::Day(day) => made.say(SectionKind::BestBeforeDay, day, ground),
        },
        Durability::NotNeeded(reason) if reason.trim().is_empty() => made.lack(
            "Why no period after opening is needed is not stated; give the reason, for example a pack for a single use",
            ground,
            !us,
            Stated::Durability,
        ),
        Durability::NotNeeded(reason) => made.advise(
            &format!("No period after opening: {reason}."),
            ground,
        ),
    }
}

#[cfg(test)]
#[path = "duties_tests.rs"]
mod tests;
