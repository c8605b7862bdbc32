//! The nearest outline against a general conic solver and against brute force.

use crate::common::example_cap;
use capwright::adapt::{Ends, Reference, SLOPE, Shape};
use capwright::measure::Length;
use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettingsBuilder, DefaultSolver, IPSolver, NonnegativeConeT, SecondOrderConeT,
    SolverStatus, SupportedConeT, ZeroConeT,
};

/// A matrix from (row, column, value), in columns.
fn sparse(rows: usize, columns: usize, mut entries: Vec<(usize, usize, f64)>) -> CscMatrix<f64> {
    entries.sort_by_key(|e| (e.1, e.0));
    let mut start = vec![0; columns + 1];
    for e in &entries {
        start[e.1 + 1] += 1;
    }
    for c in 0..columns {
        start[c + 1] += start[c];
    }
    let (index, value) = entries.iter().map(|e| (e.0, e.2)).unzip();
    CscMatrix::new(rows, columns, start, index, value)
}

/// Height of the k-th piece of the edge.
fn height(of: &Reference, k: usize) -> f64 {
    if k == 0 { of.row_cm } else { 2.0 * of.row_cm }
}

/// Which half width a place is: a variable, or one of the ends.
enum Place {
    Variable(usize),
    Given(f64),
}

/// `x_k = w_k - w_{k-1}` as terms in the variables and a constant.
fn rise(of: &Reference, k: usize) -> (Vec<(usize, f64)>, f64) {
    let place = |k: usize| match k {
        0 => Place::Given(of.top_cm),
        k if k == of.half_widths_cm.len() => Place::Given(of.below_cm),
        k => Place::Variable(k - 1),
    };
    let (mut terms, mut constant) = (Vec::new(), 0.0);
    for (at, sign) in [(k + 1, 1.0), (k, -1.0)] {
        match place(at) {
            Place::Given(value) => constant += sign * value,
            Place::Variable(at) => terms.push((at, sign)),
        }
    }
    (terms, constant)
}

/// The objective as a quadratic form: half of `w P w + q w`, with the lengths of the edge as further
/// variables without a price.
fn objective(of: &Reference) -> (CscMatrix<f64>, Vec<f64>) {
    let n = of.half_widths_cm.len();
    let m = n - 1;
    let mut p = vec![vec![0.0; m]; m];
    let mut q = vec![0.0; m + n];
    for k in 0..m {
        p[k][k] += 4.0 * of.row_cm;
        q[k] -= 4.0 * of.row_cm * of.half_widths_cm[k];
    }
    for k in 0..n {
        let (terms, constant) = rise(of, k);
        let before = if k == 0 {
            of.top_cm
        } else {
            of.half_widths_cm[k - 1]
        };
        let wanted = of.half_widths_cm[k] - before;
        let weight = 2.0 * SLOPE / height(of, k);
        for &(i, a) in &terms {
            q[i] += weight * a * (constant - wanted);
            for &(j, b) in &terms {
                p[i][j] += weight * a * b;
            }
        }
    }
    let upper = (0..m).flat_map(|i| (i..m).map(move |j| (i, j)));
    let entries = upper
        .filter(|&(i, j)| p[i][j] != 0.0)
        .map(|(i, j)| (i, j, p[i][j]));
    (sparse(m + n, m + n, entries.collect()), q)
}

/// Rows of `A x + s = b`, with the cones of `s`.
#[derive(Default)]
struct Constraints {
    a: Vec<(usize, usize, f64)>,
    b: Vec<f64>,
    cones: Vec<SupportedConeT<f64>>,
}

impl Constraints {
    /// One row: `b` less these terms lies in the cone.
    fn row(&mut self, terms: impl IntoIterator<Item = (usize, f64)>, b: f64) {
        let at = self.b.len();
        self.a
            .extend(terms.into_iter().map(|(i, value)| (at, i, value)));
        self.b.push(b);
    }
}

fn constraints(of: &Reference, curve_cm: f64, half_area: Option<f64>) -> Constraints {
    let n = of.half_widths_cm.len();
    let m = n - 1;
    let mut all = Constraints::default();
    if let Some(area) = half_area {
        let sum = area / (2.0 * of.row_cm) - of.below_cm;
        all.row((0..m).map(|k| (k, 1.0)), sum);
        all.cones.push(ZeroConeT(1));
    }
    let less = |terms: Vec<(usize, f64)>| terms.into_iter().map(|(i, sign)| (i, -sign));
    for k in 0..n {
        let (terms, constant) = rise(of, k);
        all.row(less(terms), constant);
    }
    all.row((0..n).map(|k| (m + k, 1.0)), curve_cm - of.row_cm);
    all.cones.push(NonnegativeConeT(n + 1));
    for k in 0..n {
        let (terms, constant) = rise(of, k);
        all.row([(m + k, -1.0)], 0.0);
        all.row(less(terms), constant);
        all.row([], height(of, k));
        all.cones.push(SecondOrderConeT(3));
    }
    all
}

/// The same problem written down as a cone program: half widths `w`, lengths `t` with
/// `t_k >= |(x_k, h_k)|`, and the sum of the lengths at most the curve. For an edge that has to
/// become shorter this is the same as an equality.
fn by_cones(of: &Reference, curve_cm: f64, half_area: Option<f64>) -> Option<(f64, Vec<f64>)> {
    let n = of.half_widths_cm.len();
    let m = n - 1;
    let (p, q) = objective(of);
    let Constraints { a, b, cones } = constraints(of, curve_cm, half_area);
    let settings = DefaultSettingsBuilder::default()
        .verbose(false)
        .tol_gap_abs(1e-11)
        .tol_gap_rel(1e-11)
        .tol_feas(1e-11)
        .build()
        .unwrap();
    let a = sparse(b.len(), m + n, a);
    let mut solver = DefaultSolver::new(&p, &q, &a, &b, &cones, settings).unwrap();
    solver.solve();
    let solved = [SolverStatus::Solved, SolverStatus::AlmostSolved];
    if !solved.contains(&solver.solution.status) {
        return None;
    }
    let mut widths = solver.solution.x[..m].to_vec();
    widths.push(of.below_cm);
    Some((of.cost(&widths), widths))
}

/// Shapes and ends: an old cap and a tube cut slantwise, narrow and wide, shallow and deep.
fn grid() -> Vec<Reference> {
    let cap = example_cap();
    let mut all = Vec::new();
    for below_cm in [9.0, 13.2, 18.0] {
        for top_cm in [1.0, 2.7, 5.0] {
            for pairs in [5, 17, 30] {
                let ends = Ends {
                    top: Length::cm(top_cm),
                    below: Length::cm(below_cm),
                    row: Length::cm(1.0 / 3.0),
                };
                all.push(Shape::of(&cap).between(ends, pairs));
                let cut = Shape::Cut {
                    upper_arm: Length::cm(2.0 * below_cm + 4.0),
                };
                all.push(cut.between(ends, pairs));
            }
        }
    }
    all
}

/// A shorter edge: the optimum of a general solver, on the whole grid.
#[test]
fn a_shorter_edge_as_a_cone_program_has_it() {
    let mut compared = 0;
    for reference in grid() {
        let (own, least) = (
            reference.curve_cm(&reference.half_widths_cm),
            reference.shortest_cm(),
        );
        for share in [0.9, 0.5, 0.1] {
            let curve = least + share * (own - least);
            let found = reference.nearest(curve, None).expect("between the limits");
            let (cost, widths) = by_cones(&reference, curve, None).expect("solved");
            assert!((reference.curve_cm(&found.half_widths_cm) - curve).abs() < 1e-6);
            // Both meet the edge to about a hundredth of a micrometre, and an edge costs its price.
            let near = 1e-6 * (1.0 + cost) + 1e-6 * found.price;
            assert!(
                (found.cost - cost).abs() < near,
                "cost {} against {cost}, price {}",
                found.cost,
                found.price
            );
            for (a, b) in found.half_widths_cm.iter().zip(&widths) {
                assert!((a - b).abs() < 1e-3, "{a} against {b}");
            }
            assert!(found.price > 0.0);
            compared += 1;
        }
    }
    assert_eq!(compared, 54 * 3);
}

/// The area kept as well: the same solver with one more equation, where the edge is at its limit.
#[test]
fn a_kept_area_as_a_cone_program_has_it() {
    let mut compared = 0;
    for reference in grid() {
        let sum: f64 = reference.half_widths_cm.iter().sum();
        for more in [0.97, 1.03] {
            let half_area = 2.0 * reference.row_cm * sum * more;
            let curve = reference.curve_cm(&reference.half_widths_cm);
            let Some(found) = reference.nearest(curve, Some(half_area)) else {
                continue;
            };
            let area: f64 = found.half_widths_cm.iter().sum::<f64>() * 2.0 * reference.row_cm;
            assert!((area - half_area).abs() < 1e-6);
            if found.price > 1e-3 {
                let (cost, _) = by_cones(&reference, curve, Some(half_area)).expect("solved");
                assert!((found.cost - cost).abs() < 1e-5 * (1.0 + cost));
                compared += 1;
            }
        }
    }
    assert!(compared > 20, "{compared}");
}

/// A longer edge is no convex constraint: four pairs, so three half widths. Two run over a fine grid,
/// the third is solved for; nothing on the grid is better.
#[test]
fn a_longer_edge_against_brute_force() {
    for (top, below, bends) in [(2.0, 6.0, [2.4, 3.9, 5.0]), (1.0, 7.0, [2.6, 3.4, 4.1])] {
        let reference = Reference {
            top_cm: top,
            below_cm: below,
            row_cm: 0.5,
            half_widths_cm: vec![bends[0], bends[1], bends[2], below],
        };
        let own = reference.curve_cm(&reference.half_widths_cm);
        let longest = reference.longest_cm(None).unwrap();
        let curve = own + 0.7 * (longest - own);
        let found = reference.nearest(curve, None).expect("within the limit");
        let mut best = f64::INFINITY;
        let steps = 240;
        for i in 0..=steps {
            let a = top + (below - top) * f64::from(i) / f64::from(steps);
            for j in i..=steps {
                let b = top + (below - top) * f64::from(j) / f64::from(steps);
                let length = |c: f64| reference.curve_cm(&[a, b, c, below]) - curve;
                // The length is convex in c: on each side of its least there is one root at most.
                let middle = f64::midpoint(b, below);
                for (mut short, mut long) in [(middle, b), (middle, below)] {
                    if length(short) > 0.0 || length(long) < 0.0 {
                        continue;
                    }
                    for _ in 0..60 {
                        let half = f64::midpoint(short, long);
                        if length(half) > 0.0 {
                            long = half;
                        } else {
                            short = half;
                        }
                    }
                    best = best.min(reference.cost(&[a, b, short, below]));
                }
            }
        }
        assert!(found.cost <= best + 1e-9, "{} against {best}", found.cost);
        assert!(
            best - found.cost < 0.02 * (1.0 + best),
            "the grid comes near"
        );
        assert!(found.price < 0.0);
    }
}

/// What cannot be: shorter than straight, longer than any bend, an area beyond the rectangle.
#[test]
fn beyond_the_limits_there_is_none() {
    for reference in grid() {
        assert!(
            reference
                .nearest(reference.shortest_cm() - 0.01, None)
                .is_none()
        );
        let enlarged = reference.enlarged(capwright::adapt::MOST_ENLARGED);
        let longest = enlarged.longest_cm(None).unwrap();
        assert!(reference.nearest_enlarged(longest + 0.05, None).is_none());
        let rectangle =
            2.0 * reference.row_cm * reference.below_cm * reference.half_widths_cm.len() as f64;
        let curve = reference.curve_cm(&reference.half_widths_cm);
        assert!(reference.nearest(curve, Some(rectangle * 1.1)).is_none());
    }
}

/// Between the usual bends and the limit the bends are enlarged: the edge is met, the outline climbs.
#[test]
fn enlarged_bends_meet_longer_edges() {
    for reference in grid() {
        let enlarged = reference.enlarged(capwright::adapt::MOST_ENLARGED);
        let (own, longest) = (
            reference.longest_cm(None).unwrap(),
            enlarged.longest_cm(None).unwrap(),
        );
        let curve = f64::midpoint(own, longest);
        let found = reference.nearest_enlarged(curve, None).unwrap();
        assert!((reference.curve_cm(&found.half_widths_cm) - curve).abs() < 1e-4);
        assert!(found.enlarged > 1.0);
        let mut last = reference.top_cm;
        for &width in &found.half_widths_cm {
            assert!(width >= last - 1e-6);
            last = width;
        }
    }
}
