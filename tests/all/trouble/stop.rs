//! Work whose answer nobody waits for ends at once.

use std::time::{Duration, Instant};

use capwright::case::{Case, read_case};
use capwright::convert::drift::drift_until;
use capwright::convert::{check_until, convert_until};
use capwright::diagnostic::Diagnostic;
use capwright::measure::Stop;

/// A fit that is begun is ended: a twentieth of a second, in a debug build on a busy machine up to a second.
const AT_ONCE: Duration = Duration::from_secs(1);

fn case(text: &str) -> Case {
    let (case, said) = read_case(text);
    case.unwrap_or_else(|| panic!("{said:?}"))
}

fn tern() -> Case {
    case(include_str!("../../../cases/tern-harbour.toml"))
}

/// Forty sizes, a misprint in each, and more sentences than a pattern has: repairs are looked for up
/// to the reader's own limit.
fn misprinted() -> Case {
    let list = |from: usize| {
        let rest: Vec<String> = (1..40).map(|n| (from + n).to_string()).collect();
        format!("{from} ({})", rest.join(", "))
    };
    let labels: Vec<String> = (1..=40).map(|n| format!("\"{n}\"")).collect();
    let plain = "Work 2 rows even. ".repeat(150);
    case(&format!(
        "title = \"Misprinted\"\nunits = \"cm\"\nsizes = [{}]\n[gauge.pattern]\nstitches = 22\nrows = 30\n\
         [sleeve]\nstitches = \"{}\"\ncap = \"\"\"Bind off 5 sts at the beginning of the next 2 rows ({} sts). {plain}\
         Decrease 1 st each end of next 3 rows ({} sts), then every other row 12 times ({} sts). \
         Bind off the remaining 30 sts.\"\"\"\n[armhole]\nedge = 22\nunderarm = 3\ndepth = 20\n",
        labels.join(", "),
        list(70),
        list(61),
        list(53),
        list(31),
    ))
}

/// How long `work` goes on after the flag is set in its midst, and what it ends with.
fn after_stop<T: Send>(
    wait: Duration,
    work: impl FnOnce(&Stop) -> Result<T, Vec<Diagnostic>> + Send,
) -> (Duration, Vec<Diagnostic>) {
    let stop = Stop::flag();
    std::thread::scope(|scope| {
        let working = scope.spawn(|| work(&stop));
        std::thread::sleep(wait);
        let set = Instant::now();
        stop.set();
        let done = working.join().unwrap();
        (set.elapsed(), done.err().unwrap_or_default())
    })
}

/// The same, sooner and sooner until the work is still going on when it is stopped: on a busy machine one run says little
/// of how long the next one takes.
fn stopped_after<T: Send>(
    wait: Duration,
    work: impl Fn(&Stop) -> Result<T, Vec<Diagnostic>> + Sync,
) -> Duration {
    let tries = (0..8).map(|halved| after_stop(wait / 2_u32.pow(halved), &work));
    let mut stopped = tries.filter(|(_, said)| is_stopped(said));
    stopped.next().expect("stopped in its midst").0
}

fn is_stopped(said: &[Diagnostic]) -> bool {
    matches!(said, [one] if one.code.id == "stopped")
}

#[test]
fn what_is_stopped_before_it_begins_does_nothing() {
    let (tern, stop) = (tern(), Stop::flag());
    stop.set();
    let begun = Instant::now();
    assert!(is_stopped(&convert_until(&tern, None, &stop).unwrap_err()));
    assert!(is_stopped(&check_until(&tern, None, &stop).unwrap_err()));
    assert!(is_stopped(&drift_until(&tern, None, &stop).unwrap_err()));
    assert!(begun.elapsed() < AT_ONCE, "{:?}", begun.elapsed());
}

#[test]
fn the_reader_stops_in_the_midst_of_its_repairs() {
    let case = misprinted();
    let begun = Instant::now();
    assert!(check_until(&case, None, &Stop::never()).is_ok());
    let whole = begun.elapsed();
    let took = stopped_after(whole / 4, |stop| check_until(&case, None, stop));
    assert!(took < AT_ONCE, "{took:?} of {whole:?}");
}

#[test]
fn the_drift_stops_in_its_midst() {
    let case = tern();
    let begun = Instant::now();
    assert!(drift_until(&case, None, &Stop::never()).is_ok());
    let whole = begun.elapsed();
    let took = stopped_after(whole / 3, |stop| drift_until(&case, None, stop));
    assert!(took < AT_ONCE, "{took:?} of {whole:?}");
}

/// Searches that are long in a debug build: what is nearly as good and what cures a finding (a large armhole), what would
/// make a cap possible (moves that lead to none), ways on from the needles.
#[test]
fn a_conversion_stops_in_its_midst() {
    let text = include_str!("../../../cases/tern-harbour.toml");
    for (what, text) in [
        ("cures", text.replace("edge = 8.2", "edge = 13")),
        (
            "no cap",
            format!("{text}\n[fit]\nmoves = [\"5/0\", \"6/0\"]\n"),
        ),
        (
            "on the needles",
            format!("{text}\n[so_far]\nrows = 16\ndepth = 1.5\n"),
        ),
    ] {
        let case = case(&text);
        let begun = Instant::now();
        let done = convert_until(&case, None, &Stop::never());
        assert_eq!(done.is_err(), what == "no cap", "{what}");
        let whole = begun.elapsed();
        for part in [2, 3] {
            let wait = whole * part / 5;
            let took = stopped_after(wait, |stop| convert_until(&case, None, stop));
            assert!(took < AT_ONCE, "{what}: {took:?} of {whole:?}");
        }
    }
}
