//! The nearest outline: constrained least squares on the half widths of row pairs.
//!
//! Variables are the half widths `w_1 .. w_{n-1}` of the pairs from the top; the top corner and the
//! pair above the underarm are given. With the rise of each piece of the edge `x_k = w_k - w_{k-1}`
//! over its height `h_k` (half a pair at the top, else a pair), the outline wanted minimises
//!
//! `sum_k 2 r (w_k - ref_k)^2 + SLOPE * sum_k (x_k - xref_k)^2 / h_k`
//!
//! where every `x_k >= 0`, the edge `sum_k hypot(x_k, h_k)` has a given length and, where asked
//! for, the area is kept: small squares of the widths keep the outline, those of the slopes keep
//! where it is steep and where it turns.
//!
//! The length of the edge is convex in `x`, so asking for it is no convex constraint when the edge
//! must grow. But with a price on the length the problem stays strictly convex as long as the price
//! is above `-2 SLOPE`, its answer is then unique, and an answer that has the length asked for is
//! the best of all outlines with that length (a Lagrange multiplier suffices). So the price is
//! searched for. Beyond its limit an outline would break into steps; a longer edge is then had by
//! enlarging the bends of the reference itself as little as will do, up to [`MOST_ENLARGED`] times:
//! caps are so near to straight that the usual price reaches only a few millimetres. Every Newton
//! step is a tridiagonal system.

/// Weight of the slopes in square centimetres: unevenness over less than about 2 cm counts more as
/// slope, longer bends count more as width.
pub const SLOPE: f64 = 4.0;

/// How far the bends of a reference may be enlarged (common practice, no source: with more the cap has
/// a shelf at the underarm and another at the top).
pub const MOST_ENLARGED: f64 = 4.0;

/// Where an outline starts from.
#[derive(Clone, Debug, PartialEq)]
pub struct Reference {
    /// Half width of the top corner in centimetres.
    pub top_cm: f64,
    /// Half width at the underarm line in centimetres.
    pub below_cm: f64,
    /// Height of a row in centimetres.
    pub row_cm: f64,
    /// Half widths of the row pairs from the top in centimetres; the last is `below_cm`.
    pub half_widths_cm: Vec<f64>,
}

/// An outline near a reference.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearest {
    /// Half widths of the row pairs from the top in centimetres.
    pub half_widths_cm: Vec<f64>,
    /// The objective.
    pub cost: f64,
    /// The price of a centimetre of edge: positive where the edge had to become shorter.
    pub price: f64,
    /// How much the bends of the reference were enlarged; 1 when they were not.
    pub enlarged: f64,
}

impl Nearest {
    /// Root of the mean square of the change of width on one side, in centimetres.
    pub fn bend_cm(&self, reference: &Reference) -> f64 {
        let pairs = self.half_widths_cm.iter().zip(&reference.half_widths_cm);
        let sum: f64 = pairs.map(|(w, at)| (w - at) * (w - at)).sum();
        (sum / self.half_widths_cm.len().max(1) as f64).sqrt()
    }
}

/// Prices lie above this; a little is left so that every step is well conditioned.
const LOWEST_PRICE: f64 = -2.0 * SLOPE * 0.98;
/// The edge can shrink no further long before: the outline is then a straight line to seven digits.
const HIGHEST_PRICE: f64 = 1e7;
/// An edge this near is met: far below a hair, far above the rounding of a sum of a hundred lengths.
const EDGE_CM: f64 = 1e-7;

impl Reference {
    /// The same outline with its bends enlarged: what it lies off the straight line from corner to
    /// corner, times so much. Slopes grow apart and turn where they turned.
    #[must_use]
    pub fn enlarged(&self, times: f64) -> Self {
        let pieces = 2.0 * self.half_widths_cm.len() as f64 - 1.0;
        let rise = self.below_cm - self.top_cm;
        let straight = |k: usize| self.top_cm + rise * (2.0 * k as f64 + 1.0) / pieces;
        let widths = self.half_widths_cm.iter().enumerate();
        let half_widths_cm = widths
            .map(|(k, w)| straight(k) + times * (w - straight(k)))
            .collect();
        Self {
            half_widths_cm,
            ..*self
        }
    }

    /// Length of one side from the top corner to the underarm line, for half widths of its pairs.
    pub fn curve_cm(&self, half_widths_cm: &[f64]) -> f64 {
        let rises = self.rises(half_widths_cm);
        let pieces = rises.iter().enumerate().map(|(k, x)| {
            let h = self.height(k);
            (x * x + h * h).sqrt()
        });
        pieces.sum::<f64>() + self.row_cm
    }

    /// The shortest curve there is: straight from the top corner to the underarm.
    pub fn shortest_cm(&self) -> f64 {
        let rise = self.below_cm - self.top_cm;
        let height = (2.0 * self.half_widths_cm.len() as f64 - 1.0) * self.row_cm;
        (rise * rise + height * height).sqrt() + self.row_cm
    }

    /// The longest curve that still is a bend of the reference and not a row of steps; `None` when
    /// the area cannot be had at all.
    pub fn longest_cm(&self, half_area_cm2: Option<f64>) -> Option<f64> {
        let widths = self.at_price(LOWEST_PRICE, half_area_cm2)?;
        Some(self.curve_cm(&widths))
    }

    /// The outline nearest to this one whose curve is so long and, where given, whose area on one
    /// side is kept; `None` when there is none.
    pub fn nearest(&self, curve_cm: f64, half_area_cm2: Option<f64>) -> Option<Nearest> {
        let off = |price: f64| {
            let widths = self.at_price(price, half_area_cm2)?;
            Some((self.curve_cm(&widths) - curve_cm, widths))
        };
        let (at_zero, widths) = off(0.0)?;
        let (price, half_widths_cm) = if at_zero.abs() <= EDGE_CM {
            (0.0, widths)
        } else {
            let bracket = if at_zero > 0.0 {
                raised(&off, at_zero)?
            } else {
                let (lowest, widths) = off(LOWEST_PRICE)?;
                if lowest < 0.0 {
                    return (lowest > -EDGE_CM).then(|| self.answer(LOWEST_PRICE, widths));
                }
                ((LOWEST_PRICE, lowest), (0.0, at_zero))
            };
            root(&off, bracket)?
        };
        Some(self.answer(price, half_widths_cm))
    }

    /// The same, with the bends enlarged where the edge wanted is too long for them. The cost is the
    /// distance from this reference.
    pub fn nearest_enlarged(&self, curve_cm: f64, half_area_cm2: Option<f64>) -> Option<Nearest> {
        if let Some(nearest) = self.nearest(curve_cm, half_area_cm2) {
            return Some(nearest);
        }
        let reaches = |times: f64| {
            let longest = self.enlarged(times).longest_cm(half_area_cm2);
            longest.is_some_and(|longest| longest >= curve_cm)
        };
        if self.longest_cm(half_area_cm2)? > curve_cm || !reaches(MOST_ENLARGED) {
            return None;
        }
        let (mut low, mut high) = (1.0, MOST_ENLARGED);
        while high - low > 1e-4 {
            let middle = f64::midpoint(low, high);
            if reaches(middle) {
                high = middle;
            } else {
                low = middle;
            }
        }
        let nearest = self.enlarged(high).nearest(curve_cm, half_area_cm2)?;
        Some(Nearest {
            cost: self.cost(&nearest.half_widths_cm),
            enlarged: high,
            ..nearest
        })
    }

    fn answer(&self, price: f64, half_widths_cm: Vec<f64>) -> Nearest {
        Nearest {
            cost: self.cost(&half_widths_cm),
            half_widths_cm,
            price,
            enlarged: 1.0,
        }
    }

    /// The objective for half widths of the pairs.
    pub fn cost(&self, half_widths_cm: &[f64]) -> f64 {
        let widths = half_widths_cm.iter().zip(&self.half_widths_cm);
        let width: f64 = widths
            .map(|(w, at)| 2.0 * self.row_cm * (w - at) * (w - at))
            .sum();
        let (new, old) = (self.rises(half_widths_cm), self.rises(&self.half_widths_cm));
        let slopes = new.iter().zip(&old).enumerate();
        let slope: f64 = slopes
            .map(|(k, (x, at))| (x - at) * (x - at) / self.height(k))
            .sum();
        width + SLOPE * slope
    }

    /// Rise of every piece of the edge, from the top.
    fn rises(&self, half_widths_cm: &[f64]) -> Vec<f64> {
        let mut last = self.top_cm;
        let rise = |w: &f64| {
            let x = w - last;
            last = *w;
            x
        };
        half_widths_cm.iter().map(rise).collect()
    }

    /// Height of the k-th piece of the edge.
    fn height(&self, k: usize) -> f64 {
        self.row_cm * if k == 0 { 1.0 } else { 2.0 }
    }

    /// The one best outline at this price of a centimetre of edge.
    fn at_price(&self, price: f64, half_area_cm2: Option<f64>) -> Option<Vec<f64>> {
        Newton::new(self, price, half_area_cm2)?.solve()
    }
}

/// A price and how much too long the edge is at it.
type OffAtPrice = (f64, f64);

/// Raises the price until the edge is no longer too long.
fn raised(
    off: &impl Fn(f64) -> Option<(f64, Vec<f64>)>,
    at_zero: f64,
) -> Option<(OffAtPrice, OffAtPrice)> {
    let (mut low, mut price) = ((0.0, at_zero), 1.0);
    while price < HIGHEST_PRICE {
        let (length, _) = off(price)?;
        if length <= 0.0 {
            return Some((low, (price, length)));
        }
        low = (price, length);
        price *= 4.0;
    }
    None
}

/// Regula falsi with the Illinois rule; the length falls as the price rises.
fn root(
    off: &impl Fn(f64) -> Option<(f64, Vec<f64>)>,
    (mut low, mut high): (OffAtPrice, OffAtPrice),
) -> Option<(f64, Vec<f64>)> {
    let mut side = 0;
    for _ in 0..200 {
        let at = (low.0 * high.1 - high.0 * low.1) / (high.1 - low.1);
        let (length, widths) = off(at)?;
        if length.abs() <= EDGE_CM || (high.0 - low.0).abs() <= 1e-12 * (1.0 + high.0.abs()) {
            return Some((at, widths));
        }
        if length > 0.0 {
            low = (at, length);
            high.1 = if side == 1 { high.1 / 2.0 } else { high.1 };
            side = 1;
        } else {
            high = (at, length);
            low.1 = if side == -1 { low.1 / 2.0 } else { low.1 };
            side = -1;
        }
    }
    None
}

/// A primal-dual interior point method for one price.
struct Newton<'a> {
    of: &'a Reference,
    price: f64,
    /// Sum of the half widths that keeps the area.
    sum_wanted: Option<f64>,
    wanted_rises: Vec<f64>,
    /// Half widths but the last.
    w: Vec<f64>,
    /// Multipliers of the rises.
    z: Vec<f64>,
    /// Multiplier of the area.
    area_price: f64,
}

/// An interior point takes some tens of steps whatever the size; more means that there is no inside.
const MOST_STEPS: usize = 200;
/// Where the bound and the answer agree to the last digits of a double.
const GAP: f64 = 1e-13;
/// The equations hold to a hundred millionth of a millimetre: below what [`EDGE_CM`] asks for.
const RESIDUAL: f64 = 1e-9;

impl<'a> Newton<'a> {
    fn new(of: &'a Reference, price: f64, half_area_cm2: Option<f64>) -> Option<Self> {
        let n = of.half_widths_cm.len();
        let rise = of.below_cm - of.top_cm;
        if n < 2 || !(rise.is_finite() && rise > 0.0 && of.row_cm > 0.0) {
            return None;
        }
        // Straight from corner to corner, which is strictly inside.
        let pieces = 2.0 * n as f64 - 1.0;
        let w = (0..n - 1).map(|k| of.top_cm + rise * (2.0 * k as f64 + 1.0) / pieces);
        Some(Self {
            price,
            sum_wanted: half_area_cm2.map(|area| area / (2.0 * of.row_cm) - of.below_cm),
            wanted_rises: of.rises(&of.half_widths_cm),
            w: w.collect(),
            z: vec![1.0; n],
            area_price: 0.0,
            of,
        })
    }

    fn all(&self) -> Vec<f64> {
        let mut all = self.w.clone();
        all.push(self.of.below_cm);
        all
    }

    fn solve(mut self) -> Option<Vec<f64>> {
        for _ in 0..MOST_STEPS {
            let x = self.of.rises(&self.all());
            let gap = dot(&x, &self.z) / x.len() as f64;
            let (gradient, curvature) = self.slopes(&x, 0.0);
            let (exact, _) = self.residual(&gradient, true);
            let short = self
                .sum_wanted
                .map_or(0.0, |sum| sum - self.w.iter().sum::<f64>());
            let worst = exact.iter().fold(short.abs(), |most, r| most.max(r.abs()));
            if gap < GAP && worst < RESIDUAL {
                return Some(self.all());
            }
            self.step(&x, 0.1 * gap, &curvature, short);
            if self.w.iter().any(|w| !w.is_finite()) {
                return None;
            }
        }
        None
    }

    /// First and second derivative by each rise; `barrier / x` stands for the multipliers.
    fn slopes(&self, x: &[f64], barrier: f64) -> (Vec<f64>, Vec<f64>) {
        let each = x.iter().zip(&self.wanted_rises).enumerate();
        each.map(|(k, (&x, wanted))| {
            let h = self.of.height(k);
            let long = (x * x + h * h).sqrt();
            let first = 2.0 * SLOPE * (x - wanted) / h + self.price * x / long - barrier / x;
            let second = 2.0 * SLOPE / h + self.price * h * h / (long * long * long);
            (first, second)
        })
        .unzip()
    }

    /// The gradient by each half width, and its norm.
    fn residual(&self, by_rise: &[f64], with_multipliers: bool) -> (Vec<f64>, f64) {
        let z = |k: usize| if with_multipliers { self.z[k] } else { 0.0 };
        let each = self.w.iter().zip(&self.of.half_widths_cm).enumerate();
        let residual: Vec<f64> = each
            .map(|(k, (w, at))| {
                let width = 4.0 * self.of.row_cm * (w - at);
                width + by_rise[k] - z(k) - by_rise[k + 1] + z(k + 1) + self.area_price
            })
            .collect();
        let norm = residual.iter().fold(0.0_f64, |most, r| most.max(r.abs()));
        (residual, norm)
    }

    fn step(&mut self, x: &[f64], barrier: f64, curvature: &[f64], short: f64) {
        let stiff: Vec<f64> = (0..x.len())
            .map(|k| curvature[k] + self.z[k] / x[k])
            .collect();
        let (by_rise, _) = self.slopes(x, barrier);
        let (residual, _) = self.residual(&by_rise, false);
        let down: Vec<f64> = residual.iter().map(|r| -r).collect();
        let diagonal: Vec<f64> = (0..self.w.len())
            .map(|k| 4.0 * self.of.row_cm + stiff[k] + stiff[k + 1])
            .collect();
        let mut dw = tridiagonal(&diagonal, &stiff, &down);
        let mut dprice = 0.0;
        if self.sum_wanted.is_some() {
            let ones = tridiagonal(&diagonal, &stiff, &vec![1.0; self.w.len()]);
            dprice = (dw.iter().sum::<f64>() - short) / ones.iter().sum::<f64>();
            for (d, one) in dw.iter_mut().zip(&ones) {
                *d -= dprice * one;
            }
        }
        let dx = |k: usize| {
            let above = if k == 0 { 0.0 } else { dw[k - 1] };
            dw.get(k).copied().unwrap_or(0.0) - above
        };
        let dz: Vec<f64> = (0..x.len())
            .map(|k| barrier / x[k] - self.z[k] - self.z[k] / x[k] * dx(k))
            .collect();
        let mut long: f64 = 1.0;
        for k in 0..x.len() {
            for (value, change) in [(x[k], dx(k)), (self.z[k], dz[k])] {
                if change < 0.0 {
                    long = long.min(-0.99 * value / change);
                }
            }
        }
        for (w, d) in self.w.iter_mut().zip(&dw) {
            *w += long * d;
        }
        for (z, d) in self.z.iter_mut().zip(&dz) {
            *z += long * d;
        }
        self.area_price += long * dprice;
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Solves a symmetric tridiagonal system whose k-th off-diagonal entry is `-stiff[k + 1]`.
fn tridiagonal(diagonal: &[f64], stiff: &[f64], right: &[f64]) -> Vec<f64> {
    let n = diagonal.len();
    let (mut d, mut out) = (diagonal.to_vec(), right.to_vec());
    for k in 1..n {
        let factor = -stiff[k] / d[k - 1];
        d[k] += factor * stiff[k];
        out[k] -= factor * out[k - 1];
    }
    for k in (0..n).rev() {
        let below = if k + 1 < n {
            stiff[k + 1] * out[k + 1]
        } else {
            0.0
        };
        out[k] = (out[k] + below) / d[k];
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Multiplied out again.
    #[test]
    fn a_tridiagonal_system_is_solved() {
        let (diagonal, stiff) = ([4.0, 5.0, 6.0], [0.0, 1.0, 2.0, 0.0]);
        let right = [1.0, 2.0, 3.0];
        let x = tridiagonal(&diagonal, &stiff, &right);
        approx::assert_abs_diff_eq!(4.0 * x[0] - x[1], 1.0, epsilon = 1e-12);
        approx::assert_abs_diff_eq!(-x[0] + 5.0 * x[1] - 2.0 * x[2], 2.0, epsilon = 1e-12);
        approx::assert_abs_diff_eq!(-2.0 * x[1] + 6.0 * x[2], 3.0, epsilon = 1e-12);
    }
}
