//! The objective: what a better cap is, in one table of weights.

/// The weights of the objective
///
/// ```text
/// J = mean_t (w_t - target_t)^2 + strain * sum a_t x_t^2 / sum a_t + area * (relative area error)^2
///   + depth * (depth error)^2 + holes * sum over sections max(0, rows - 2 stitches) / rows of the flank
///   + decrease * decreases / T + high_decrease * sum_d (T - t_d) / T^2
///   + section * (sections - 1) + lone_move * (runs of one move) + join * |join change| + join_off * |off its own|
///   + unlike * (1 where the flanks differ) + ease * (cm by which the whole ease lies outside its range)^2
/// ```
///
/// in square centimetres; means over the turn pairs and over both flanks. `x_t` is the local strain of a
/// move: its cap edge over the armhole `a_t` between its first and last stitch, less what was wanted, as a
/// share of `a_t`; `t_d` is the turn pair at which a decrease is worked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weights {
    /// Square of the local strain: 5 % costs as much as a millimetre of width everywhere.
    pub strain: f64,
    /// Square of the relative area error: 1 % costs as much as 1.6 mm of width everywhere.
    pub area: f64,
    /// Square of the depth error in centimetres: a row that was rounded away.
    pub depth: f64,
    /// Pick-ups more than two rows apart, as a share of the flank's rows: where holes begin.
    pub holes: f64,
    /// One decrease per turn pair on each flank: at equal fit fewer decreases win.
    pub decrease: f64,
    /// A decrease at the crown costs so much more than one at the base: near the base it hides in the
    /// underarm (common practice, no source).
    pub high_decrease: f64,
    /// One more pick-up section on a flank.
    pub section: f64,
    /// A run of a single move: one more thing to remember for one row pair. A longer run that costs less
    /// than this wins.
    pub lone_move: f64,
    /// A stitch made or decreased in the first round.
    pub join: f64,
    /// A stitch more or fewer than both gauges call for: the upper arm widens or narrows by it at once.
    pub join_off: f64,
    /// Flanks that differ in their moves: two lists to remember, and rows that end otherwise than they
    /// began.
    pub unlike: f64,
    /// Square of the centimetres by which the ease of the whole armhole is below nothing or above an inch, or
    /// beyond the old cap's own where that is outside already (`Problem::ease_range_cm`).
    pub ease: f64,
}

/// The weights used. Measured on 100 random caps of usual yarns and depths (`examples/fit_table.rs`): the local strain
/// is 5.9 % at the median and the width off by 1.6 mm. With a strain of 4 and decreases of 0.03 it is 6.5 % and the width off
/// the same; with a strain of 6 it is 5.4 %, but widths are off by 1.7 mm.
pub const WEIGHTS: Weights = Weights {
    strain: 4.5,
    area: 250.0,
    depth: 1.5,
    holes: 0.1,
    decrease: 0.022,
    high_decrease: 0.01,
    section: 0.002,
    lone_move: 0.001,
    join: 0.002,
    join_off: 0.006,
    unlike: 0.01,
    ease: 0.2,
};

/// A part of a repeat at the underarm, where the stitch pattern is no rib: the square of the half width in centimetres that
/// is given away for whole repeats. They are taken while the upper arm is no more than a centimetre off for them
/// (common practice, no source).
pub const OPEN_REPEAT: f64 = 0.25;

/// The ease of both edges together that published practice allows at the most, in centimetres: about an
/// inch over the whole armhole (see `outline::MOST_EASE_IN_ALL` for the source).
pub const MOST_EASE_CM: f64 = 2.54;
