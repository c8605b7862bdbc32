//! The objective: what a better cap is, in one table of weights.

/// The weights of the objective
///
/// `J = mean_t (w_t - target_t)^2 + edge * mean_t (e_t - wanted_t)^2 + area * (relative area
/// error)^2 + decrease * decreases / T + zone * (zones - 1) + unlike * (1 where the flanks differ)`
///
/// in square centimetres; means over the turn pairs and over both flanks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weights {
    /// Square of the difference between a move's cap edge and the edge its pick-ups should carry.
    /// A knitted edge gives way by a few millimetres without showing, a width does not.
    pub edge: f64,
    /// Square of the relative area error: 1 % costs as much as 1.7 mm of width everywhere.
    pub area: f64,
    /// One decrease per turn pair on each flank: at equal fit fewer decreases win.
    pub decrease: f64,
    /// One more pick-up zone on a flank.
    pub zone: f64,
    /// Flanks that differ in their moves or in the kind of pick-up: two lists to remember, and
    /// rows that end otherwise than they began.
    pub unlike: f64,
}

/// The weights used.
pub const WEIGHTS: Weights = Weights {
    edge: 0.1,
    area: 300.0,
    decrease: 0.1,
    zone: 0.002,
    unlike: 0.01,
};
