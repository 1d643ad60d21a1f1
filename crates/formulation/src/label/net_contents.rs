//! Net contents: words, customary units, type size, how far a pack may lie below.

use crate::formula::Market;
use crate::label_info::NetContents;
use crate::quantity::{OUNCE_GRAMS, US_FLUID_OUNCE_MILLILITRES, in_grams, in_millilitres};

/// Millimetres in an inch.
pub const MILLIMETRES_PER_INCH: f64 = 25.4;
/// Square centimetres in a square inch.
const CM2_PER_SQUARE_INCH: f64 = 6.4516;

/// Where the type sizes and tolerances of the European Union are written.
pub const EU_SOURCE: &str =
    "Directive 76/211/EEC, Annex I, sections 2.4 and 3; figures from general knowledge";
/// Where those of Great Britain are written.
pub const UK_SOURCE: &str = "Weights and Measures (Packaged Goods) Regulations 2006 (S.I. 2006/659); named and figures from general knowledge";
/// Where those of the United States are written.
pub const US_SOURCE: &str = "21 CFR 701.13; figures from general knowledge";

/// Where the type sizes and tolerances of a market are written.
pub const fn source(market: Market) -> &'static str {
    match market {
        Market::Eu => EU_SOURCE,
        Market::Uk => UK_SOURCE,
        Market::Us => US_SOURCE,
    }
}

/// The net contents as printed for a market.
///
/// European Union and United Kingdom: metric units. United States: customary units
/// first, then metric in brackets; decimals are cut after two places, never rounded up,
/// so that the label does not state more than the pack holds.
pub fn words(net: NetContents, market: Market) -> String {
    let metric = metric(net);
    match (market, net) {
        (Market::Us, NetContents::Mass(mass)) => {
            format!("Net Wt {} ({metric})", ounces(in_grams(mass)))
        }
        (Market::Us, NetContents::Volume(volume)) => {
            format!("{} ({metric})", fluid_ounces(in_millilitres(volume)))
        }
        _ => metric,
    }
}

fn metric(net: NetContents) -> String {
    match net {
        NetContents::Mass(mass) => scaled(in_grams(mass), "g", "kg"),
        NetContents::Volume(volume) => scaled(in_millilitres(volume), "ml", "l"),
        NetContents::Pieces(1) => "1 piece".to_owned(),
        NetContents::Pieces(count) => format!("{count} pieces"),
    }
}

fn scaled(amount: f64, unit: &str, thousand: &str) -> String {
    if amount >= 1000.0 {
        format!("{} {thousand}", plain(cut(amount / 1000.0, 3)))
    } else {
        format!("{} {unit}", plain(cut(amount, 1)))
    }
}

/// Weight in ounces; from a pound up also in pounds and ounces.
fn ounces(grams: f64) -> String {
    let ounces = cut(grams / OUNCE_GRAMS, 2);
    if ounces >= 16.0 {
        let pounds = (ounces / 16.0).floor();
        let rest = cut(ounces - pounds * 16.0, 2);
        let rest = if rest > 0.0 {
            format!(" {} oz", plain(rest))
        } else {
            String::new()
        };
        format!("{} oz ({} lb{rest})", plain(ounces), plain(pounds))
    } else {
        format!("{} oz", plain(ounces))
    }
}

/// Volume in fluid ounces; from a pint up also in pints and ounces.
fn fluid_ounces(millilitres: f64) -> String {
    let ounces = cut(millilitres / US_FLUID_OUNCE_MILLILITRES, 2);
    if ounces >= 16.0 {
        let pints = (ounces / 16.0).floor();
        let rest = cut(ounces - pints * 16.0, 2);
        let rest = if rest > 0.0 {
            format!(" {} fl oz", plain(rest))
        } else {
            String::new()
        };
        format!("{} fl oz ({} pt{rest})", plain(ounces), plain(pints))
    } else {
        format!("{} fl oz", plain(ounces))
    }
}

/// Cut after some decimals. What lies within a billionth below the next step is the
/// rounding of the computer, not less content.
fn cut(value: f64, digits: i32) -> f64 {
    let scale = 10_f64.powi(digits);
    (value * scale + 1e-9).floor() / scale
}

fn plain(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Smallest height of the figures of the net contents, mm.
///
/// European Union and United Kingdom by the nominal quantity in g or ml: up to 50, 2 mm;
/// up to 200, 3 mm; up to 1000, 4 mm; above, 6 mm. United States by the area of the main
/// panel in square inches: up to 5, 1/16 inch; up to 25, 1/8; up to 100, 3/16; up to 400,
/// 1/4; above, 1/2. `None` where the law gives none or the area is not stated.
pub fn least_figure_height_mm(
    net: NetContents,
    market: Market,
    panel_area_cm2: Option<f64>,
) -> Option<f64> {
    match market {
        Market::Eu | Market::Uk => {
            let amount = match net {
                NetContents::Mass(mass) => in_grams(mass),
                NetContents::Volume(volume) => in_millilitres(volume),
                NetContents::Pieces(_) => return None,
            };
            Some(match amount {
                a if a <= 50.0 => 2.0,
                a if a <= 200.0 => 3.0,
                a if a <= 1000.0 => 4.0,
                _ => 6.0,
            })
        }
        Market::Us => {
            let square_inches = panel_area_cm2? / CM2_PER_SQUARE_INCH;
            let inches = match square_inches {
                a if a <= 5.0 => 1.0 / 16.0,
                a if a <= 25.0 => 1.0 / 8.0,
                a if a <= 100.0 => 3.0 / 16.0,
                a if a <= 400.0 => 1.0 / 4.0,
                _ => 1.0 / 2.0,
            };
            Some(inches * MILLIMETRES_PER_INCH)
        }
    }
}

/// The tolerable negative error of one pack, in the unit of the nominal quantity (g or
/// ml), for nominal quantities from 5 to 10,000; `None` outside.
///
/// Directive 76/211/EEC, Annex I, 2.4: 9 % to 50; 4.5 to 100; 4.5 % to 200; 9 to 300; 3 %
/// to 500; 15 to 1000; 1.5 % to 10,000. Values in percent are rounded up to the next
/// tenth.
pub fn tolerable_negative_error(nominal: f64) -> Option<f64> {
    let percent = |p: f64| ((nominal * p / 100.0) * 10.0 - 1e-9).ceil() / 10.0;
    Some(match nominal {
        n if !(5.0..=10_000.0).contains(&n) => return None,
        n if n <= 50.0 => percent(9.0),
        n if n <= 100.0 => 4.5,
        n if n <= 200.0 => percent(4.5),
        n if n <= 300.0 => 9.0,
        n if n <= 500.0 => percent(3.0),
        n if n <= 1000.0 => 15.0,
        _ => percent(1.5),
    })
}

/// What a packer must keep to when filling, in words; whoever shows them names the source.
pub fn filling_note(net: NetContents, market: Market) -> Option<String> {
    let (nominal, unit) = match net {
        NetContents::Mass(mass) => (in_grams(mass), "g"),
        NetContents::Volume(volume) => (in_millilitres(volume), "ml"),
        NetContents::Pieces(_) => return None,
    };
    Some(match market {
        Market::Eu | Market::Uk => match tolerable_negative_error(nominal) {
            Some(error) => format!(
                "Packs of a batch must hold {} {unit} on average; no more than about 1 in 40 may hold less than {} {unit}, and none less than {} {unit}.",
                plain(nominal),
                plain(nominal - error),
                plain(nominal - 2.0 * error),
            ),
            None => format!(
                "Outside 5 to 10,000 {unit} the average system of prepacks does not apply; local law sets what a pack may hold less."
            ),
        },
        Market::Us => "Packs of a lot must hold the stated contents on average; only variations unavoidable in good practice are allowed.".to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{grams, millilitres};

    #[test]
    fn customary_units_are_cut_and_never_state_more() {
        let us = |net| words(net, Market::Us);
        // 8 US fluid ounces are 236.588 ml, 2 ounces 56.699 g (exact definitions).
        assert_eq!(
            us(NetContents::Volume(millilitres(200.0))),
            "6.76 fl oz (200 ml)"
        );
        assert_eq!(
            us(NetContents::Volume(millilitres(236.588))),
            "7.99 fl oz (236.5 ml)"
        );
        assert_eq!(us(NetContents::Mass(grams(60.0))), "Net Wt 2.11 oz (60 g)");
        assert_eq!(
            us(NetContents::Volume(millilitres(500.0))),
            "16.9 fl oz (1 pt 0.9 fl oz) (500 ml)"
        );
        assert_eq!(
            us(NetContents::Mass(grams(500.0))),
            "Net Wt 17.63 oz (1 lb 1.63 oz) (500 g)"
        );
        assert_eq!(
            words(NetContents::Volume(millilitres(250.0)), Market::Eu),
            "250 ml"
        );
        assert_eq!(
            words(NetContents::Mass(grams(1500.0)), Market::Eu),
            "1.5 kg"
        );
        assert_eq!(words(NetContents::Pieces(3), Market::Uk), "3 pieces");
    }

    #[test]
    fn tolerances_are_those_of_the_directive() {
        // Directive 76/211/EEC, Annex I, table of section 2.4.
        for (nominal, error) in [
            (4.0, None),
            (5.0, Some(0.5)),
            (50.0, Some(4.5)),
            (75.0, Some(4.5)),
            (100.0, Some(4.5)),
            (150.0, Some(6.8)),
            (200.0, Some(9.0)),
            (250.0, Some(9.0)),
            (400.0, Some(12.0)),
            (750.0, Some(15.0)),
            (5000.0, Some(75.0)),
            (10_001.0, None),
        ] {
            assert_eq!(tolerable_negative_error(nominal), error, "{nominal}");
        }
    }

    #[test]
    fn figures_have_their_least_height() {
        let volume = |v| NetContents::Volume(millilitres(v));
        let eu = |v| least_figure_height_mm(volume(v), Market::Eu, None);
        assert_eq!(eu(50.0), Some(2.0));
        assert_eq!(eu(51.0), Some(3.0));
        assert_eq!(eu(1000.0), Some(4.0));
        assert_eq!(eu(1001.0), Some(6.0));
        assert_eq!(
            least_figure_height_mm(volume(100.0), Market::Us, None),
            None
        );
        // 31 cm² are 4.8 square inches.
        let us = least_figure_height_mm(volume(100.0), Market::Us, Some(31.0)).unwrap();
        assert!((us - 1.5875).abs() < 1e-12);
    }
}
