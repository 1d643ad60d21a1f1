//! Differences of two colours in CIE L*a*b*.

/// A colour in CIE L*a*b* of any one white.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Lab {
    /// Lightness, 0 to 100.
    pub l: f64,
    /// Green (negative) to red.
    pub a: f64,
    /// Blue (negative) to yellow.
    pub b: f64,
}

impl Lab {
    /// CIEDE2000 with all factors 1 (ISO/CIE 11664-6; Sharma, Wu, Dalal, Color Res. Appl. 30
    /// (2005) 21).
    #[must_use]
    pub fn delta_2000(self, other: Self) -> f64 {
        let mean_chroma = f64::midpoint(self.a.hypot(self.b), other.a.hypot(other.b));
        let root = |c: f64| {
            let c7 = c.powi(7);
            (c7 / (c7 + 25.0_f64.powi(7))).sqrt()
        };
        let stretch = 1.5 - 0.5 * root(mean_chroma);
        let (a1, a2) = (self.a * stretch, other.a * stretch);
        let (c1, c2) = (a1.hypot(self.b), a2.hypot(other.b));
        let hue = |a: f64, b: f64| {
            if a == 0.0 && b == 0.0 {
                0.0
            } else {
                b.atan2(a).to_degrees().rem_euclid(360.0)
            }
        };
        let (h1, h2) = (hue(a1, self.b), hue(a2, other.b));
        // Exactly opposite hues count as not more than half a circle, rounding or not.
        const OPPOSITE: f64 = 180.0 + 1e-12;
        let grey = c1 * c2 == 0.0;
        let mut dh = h2 - h1;
        if grey {
            dh = 0.0;
        } else if dh > OPPOSITE {
            dh -= 360.0;
        } else if dh < -OPPOSITE {
            dh += 360.0;
        }
        let mean_hue = if grey {
            h1 + h2
        } else if (h1 - h2).abs() <= OPPOSITE {
            f64::midpoint(h1, h2)
        } else if h1 + h2 < 360.0 {
            (h1 + h2 + 360.0) / 2.0
        } else {
            (h1 + h2 - 360.0) / 2.0
        };
        let dl = other.l - self.l;
        let dc = c2 - c1;
        let dh = 2.0 * (c1 * c2).sqrt() * (dh / 2.0).to_radians().sin();
        let (ml, mc) = (f64::midpoint(self.l, other.l), f64::midpoint(c1, c2));
        let cos = |degrees: f64| degrees.to_radians().cos();
        let t = 1.0 - 0.17 * cos(mean_hue - 30.0)
            + 0.24 * cos(2.0 * mean_hue)
            + 0.32 * cos(3.0 * mean_hue + 6.0)
            - 0.20 * cos(4.0 * mean_hue - 63.0);
        let turn = 30.0 * (-((mean_hue - 275.0) / 25.0).powi(2)).exp();
        let sl = 1.0 + 0.015 * (ml - 50.0).powi(2) / (20.0 + (ml - 50.0).powi(2)).sqrt();
        let sc = 1.0 + 0.045 * mc;
        let sh = 1.0 + 0.015 * mc * t;
        let rt = -(2.0 * turn).to_radians().sin() * 2.0 * root(mc);
        let (l, c, h) = (dl / sl, dc / sc, dh / sh);
        (l * l + c * c + h * h + rt * c * h).max(0.0).sqrt()
    }
}
