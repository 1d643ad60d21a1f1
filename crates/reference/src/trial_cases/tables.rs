//! Tables of instruments, known liquids and critical values.

use formulation::trial::bench::colour::Lab;
use formulation::trial::bench::falling_ball::FallingBall;
use formulation::trial::bench::flow_cup::FlowCup;
use formulation::trial::bench::known_liquid::KnownLiquid;
use formulation::trial::fit::distribution::{chi2_quantile, f_quantile, t_quantile};
use formulation::trial::fit::repeat::grubbs_critical;

/// What a CSV table of these asks.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum TableAsks {
    /// CIEDE2000 of two colours.
    Colour,
    /// Kinematic viscosity of a flow cup.
    Cup,
    /// Viscosity by a falling ball.
    Ball,
    /// Viscosity of a known liquid.
    Liquid,
    /// A critical value.
    Critical,
}

impl TableAsks {
    /// What the columns ask; `told` is what comments and names say.
    #[must_use]
    pub fn from(has: &dyn Fn(&str) -> bool, told: &str) -> Option<Self> {
        if has("L1") && has("a1") && has("b2") {
            Some(Self::Colour)
        } else if has("cup") && (has("time_s") || has("kinematic_mm2_s")) {
            Some(Self::Cup)
        } else if has("d_mm") && has("D_mm") && has("time_s") {
            Some(Self::Ball)
        } else if has("what") && has("key") && has("p") {
            Some(Self::Critical)
        } else if has("viscosity_mPas") && has("solute") || {
            let other = [
                "a_w",
                "density_g_cm3",
                "density_kg_m3",
                "molality",
                "x_solute",
            ];
            let says = ["viscosity", "-visc-"].iter().any(|w| told.contains(w));
            has("solute") && says && !other.iter().any(|c| has(c))
        } {
            Some(Self::Liquid)
        } else {
            None
        }
    }

    /// The figure of one row, empty where there is none.
    pub fn answer<'a>(
        self,
        text: &dyn Fn(&str) -> Option<&'a str>,
        number: &dyn Fn(&str) -> Result<f64, String>,
    ) -> Result<String, String> {
        let word = |key: &str| text(key).ok_or_else(|| format!("{key} is missing"));
        let value = match self {
            Self::Colour => {
                let one = |n: &str| -> Result<Lab, String> {
                    Ok(Lab {
                        l: number(&format!("L{n}"))?,
                        a: number(&format!("a{n}"))?,
                        b: number(&format!("b{n}"))?,
                    })
                };
                one("1")?.delta_2000(one("2")?)
            }
            Self::Cup => {
                let name = word("cup")?;
                let cup =
                    FlowCup::named(name).ok_or_else(|| format!("the cup “{name}” is not known"))?;
                if text("time_s").is_none() {
                    cup.seconds(number("kinematic_mm2_s")?)
                } else {
                    match cup.kinematic_mm2_s(number("time_s")?) {
                        Some(v) => v,
                        None => return Ok(String::new()),
                    }
                }
            }
            Self::Ball => {
                FallingBall {
                    ball_mm: number("d_mm")?,
                    tube_mm: number("D_mm")?,
                    ball_density: number("rho_ball")?,
                    liquid_density: number("rho_liquid")?,
                    distance_mm: number("distance_mm")?,
                    seconds: number("time_s")?,
                }
                .fall()
                .ok_or("the ball does not sink in the tube")?
                .viscosity_mpa_s
            }
            Self::Liquid => {
                let name = word("solute")?;
                KnownLiquid::named(name)
                    .ok_or_else(|| format!("nothing is known of “{name}”"))?
                    .viscosity_mpa_s(number("mass_pct")?, number("T_C")?)
                    .ok_or("outside the range of the equation")?
            }
            Self::Critical => {
                let (key, p) = (word("key")?, number("p")?);
                let count = || {
                    key.parse::<f64>()
                        .map_err(|e| format!("key: “{key}” is not a number ({e})"))
                };
                match word("what")? {
                    "t" => t_quantile(p, count()?),
                    "chi2" => chi2_quantile(p, count()?),
                    "grubbs_two_sided" => grubbs_critical(count()? as usize, p, true),
                    "grubbs_one_sided" => grubbs_critical(count()? as usize, p, false),
                    "f" => {
                        let pair = key.split_once('/').and_then(|(a, b)| {
                            Some((a.trim().parse().ok()?, b.trim().parse().ok()?))
                        });
                        let (a, b) = pair.ok_or_else(|| format!("key: “{key}” is not a/b"))?;
                        f_quantile(p, a, b)
                    }
                    other => return Err(format!("“{other}” is not known")),
                }
            }
        };
        Ok(format!("{value:.12e}"))
    }
}
