//! The case file: TOML -> a valid case. Units turn to centimetres here and nowhere else.

mod style;
mod swatch;

pub use style::{Hand, Style, Terms, Turn};
pub use swatch::{Swatch, SwatchCount};
