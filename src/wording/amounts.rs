//! Numbers with their nouns, the way a pattern says them.

/// `1 st`, `2 sts`.
pub(crate) fn sts(n: u32) -> String {
    counted(n, "st", "sts")
}

/// `1 row`, `2 rows`.
pub(crate) fn rows(n: u32) -> String {
    counted(n, "row", "rows")
}

/// `1 round`, `2 rounds`.
pub(crate) fn rounds(n: u32) -> String {
    counted(n, "round", "rounds")
}

/// `1 pair`, `2 pairs`.
pub(crate) fn pairs(n: u32) -> String {
    counted(n, "pair", "pairs")
}

fn counted(n: u32, one: &str, several: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { several })
}

/// `once`, `twice`, `3 times`.
pub(crate) fn times(n: u32) -> String {
    match n {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        n => format!("{n} times"),
    }
}

/// `round`, `2nd round`, `8th round`.
pub(crate) fn ordinal_round(n: u32) -> String {
    let ending = match (n % 10, n % 100) {
        (1, t) if t != 11 => "st",
        (2, t) if t != 12 => "nd",
        (3, t) if t != 13 => "rd",
        _ => "th",
    };
    if n == 1 {
        "round".to_owned()
    } else {
        format!("{n}{ending} round")
    }
}
