//! A ball falling in a tube of clear liquid: Stokes's law with the wall correction of Faxén
//! (1922; coefficients as public texts print them). For Newtonian liquids.

/// Standard gravity, m/s² (exact).
const GRAVITY: f64 = 9.80665;
/// Greatest Reynolds number at which Stokes's law is taken; the drag exceeds it there by some
/// 15 % (Schiller and Naumann, from memory).
pub const REYNOLDS_LIMIT: f64 = 1.0;
/// Greatest ratio of ball to tube; the wall series is 1.7 % off at 0.4.
pub const WALL_LIMIT: f64 = 0.5;
/// Reynolds number beyond which a figure is for comparison only: the drag exceeds that of Stokes
/// by 2 % there (Oseen's correction, 3/16 of it). Where to draw the line is our own choice.
const DOUBTFUL_REYNOLDS: f64 = 0.1;
/// The same for the ratio of ball to tube; our own choice.
const DOUBTFUL_WALL: f64 = 0.32;

/// A ball, a tube and a time.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct FallingBall {
    /// Diameter of the ball, mm.
    pub ball_mm: f64,
    /// Inner diameter of the tube, mm.
    pub tube_mm: f64,
    /// Density of the ball, g/cm³.
    pub ball_density: f64,
    /// Density of the liquid, g/cm³.
    pub liquid_density: f64,
    /// Distance fallen, mm.
    pub distance_mm: f64,
    /// Time of the fall, s.
    pub seconds: f64,
}

/// How far the equation is taken.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Validity {
    /// Slow enough and far enough from the wall.
    Good,
    /// Near the end of the range.
    Caution,
    /// Outside: no viscosity may be stated.
    Outside,
}

/// What follows from a fall.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Fall {
    /// Viscosity with the wall correction, mPa s.
    pub viscosity_mpa_s: f64,
    /// Reynolds number with it.
    pub reynolds: f64,
    /// How far it is to be taken.
    pub validity: Validity,
}

impl FallingBall {
    /// The viscosity by Stokes with Faxén's wall correction, and how far to take it; none where a dimension is not positive or the ball
    /// does not sink.
    #[must_use]
    pub fn fall(&self) -> Option<Fall> {
        let all = [
            self.ball_mm,
            self.tube_mm,
            self.ball_density,
            self.liquid_density,
            self.distance_mm,
            self.seconds,
        ];
        if all.iter().any(|v| !(v.is_finite() && *v > 0.0))
            || self.ball_density <= self.liquid_density
            || self.ball_mm >= self.tube_mm
        {
            return None;
        }
        let speed = self.distance_mm / 1000.0 / self.seconds;
        let diameter = self.ball_mm / 1000.0;
        let stokes =
            (self.ball_density - self.liquid_density) * 1000.0 * GRAVITY * diameter * diameter
                / (18.0 * speed);
        let l = self.ball_mm / self.tube_mm;
        let wall = 1.0 - 2.10443 * l + 2.08877 * l.powi(3) - 0.94813 * l.powi(5);
        let viscosity = stokes * wall;
        let reynolds = self.liquid_density * 1000.0 * speed * diameter / viscosity;
        let validity = if reynolds > REYNOLDS_LIMIT || l > WALL_LIMIT {
            Validity::Outside
        } else if reynolds > DOUBTFUL_REYNOLDS || l > DOUBTFUL_WALL {
            Validity::Caution
        } else {
            Validity::Good
        };
        Some(Fall {
            viscosity_mpa_s: viscosity * 1000.0,
            reynolds,
            validity,
        })
    }
}
