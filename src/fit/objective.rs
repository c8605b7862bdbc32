//! The objective: what a better cap is, in one table of weights.

/// The weights of the objective
///
/// ```text
/// J = mean_t (w_t - target_t)^2 + edge * mean_t (e_t - wanted_t)^2 + area * (relative area error)^2
///   + decrease * decreases / T + high_decrease * sum_d (T - t_d) / T^2
///   + zone * (zones - 1) + lone_move * (runs of one move) + unlike * (1 where the flanks differ)
/// ```
///
/// in square centimetres; means over the turn pairs and over both flanks; `t_d` is the turn pair at
/// which a decrease is worked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weights {
    /// Square of the difference between a move's cap edge and the edge its pick-ups should carry.
    /// A knitted edge gives way by a few millimetres without showing, a width does not.
    pub edge: f64,
    /// Square of the relative area error: 1 % costs as much as 1.7 mm of width everywhere.
    pub area: f64,
    /// One decrease per turn pair on each flank: at equal fit fewer decreases win.
    pub decrease: f64,
    /// A decrease at the crown costs so much more than one at the base: near the base it hides in the
    /// underarm (common practice, no source).
    pub high_decrease: f64,
    /// One more pick-up zone on a flank.
    pub zone: f64,
    /// A run of a single move: one more thing to remember for one row pair. A longer run that costs less
    /// than this wins.
    pub lone_move: f64,
    /// Flanks that differ in their moves or in the kind of pick-up: two lists to remember, and
    /// rows that end otherwise than they began.
    pub unlike: f64,
}

/// The weights used.
pub const WEIGHTS: Weights = Weights {
    edge: 0.1,
    area: 300.0,
    decrease: 0.1,
    high_decrease: 0.02,
    zone: 0.002,
    lone_move: 0.001,
    unlike: 0.01,
};
