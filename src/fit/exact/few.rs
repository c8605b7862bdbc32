//! Caps of one run and of two: few enough to try each.

use super::best::Best;
use super::frame::Frame;
use super::search::try_moves;
use super::sections::Flank;
use crate::plan::Move;

/// The most runs that are tried one by one.
pub(super) const FEW: usize = 2;

/// Tries every list of one or two runs that ends where a flank may end.
pub(super) fn few_runs(frame: &Frame<'_>, flanks: &[Flank<'_>], least: f64, best: &mut Best) {
    if least >= best.limit(1) {
        return;
    }
    let moves = frame.pairs - 1;
    for (a, first) in frame.kinds.iter().enumerate() {
        for (b, second) in frame.kinds.iter().enumerate() {
            // A run that goes on is one run: it is tried once.
            let times = if a == b { moves..moves + 1 } else { 1..moves };
            for times in times {
                let net = first.widens * times + second.widens * (moves - times);
                if !frame.is_end(net) {
                    continue;
                }
                best.works(1);
                let mut list: Vec<Move> = vec![first.moved; times];
                list.extend(std::iter::repeat_n(second.moved, moves - times));
                try_moves(frame, flanks, &list, best);
            }
        }
    }
}
