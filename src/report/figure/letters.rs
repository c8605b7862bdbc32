//! How wide a line of text is, so that labels can be kept apart.

/// Advance widths of the letters from space to `~` in thousandths of the letter size: the `hmtx`
/// table of `DejaVu Sans` 2.37, the first font the figures ask for and a wide one.
const ADVANCE: [u16; 95] = [
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636,
    636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632,
    575, 775, 752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685,
    611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579,
    278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
];

/// Any other letter is taken to be as wide as it is high.
const OTHER: u16 = 1000;

/// Width of a text set in letters of this size, in the same unit.
pub(super) fn width_of(text: &str, size: f64) -> f64 {
    let advance = |letter: char| {
        let place = (letter as usize).checked_sub(' ' as usize);
        let known = place.and_then(|place| ADVANCE.get(place));
        f64::from(known.copied().unwrap_or(OTHER))
    };
    text.chars().map(advance).sum::<f64>() * size / 1000.0
}

/// The text, or as much of it as fits into this width with `...` behind.
pub(super) fn fitted(text: &str, size: f64, width: f64) -> String {
    if width_of(text, size) <= width {
        return text.to_owned();
    }
    let mut kept = String::new();
    for letter in text.chars() {
        kept.push(letter);
        if width_of(&kept, size) + width_of("...", size) > width {
            kept.pop();
            break;
        }
    }
    format!("{}...", kept.trim_end())
}

/// The text in lines that are no wider than this, broken between words.
pub(super) fn wrapped(text: &str, size: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if width_of(&format!("{line} {word}"), size) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
