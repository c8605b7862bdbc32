//! One figure of a conversion as SVG, for another program's page.
//!
//! `cargo run --example embed_figure [NAME] > figure.svg`

#![allow(clippy::print_stdout, reason = "an example prints")]

use std::error::Error;

use capwright::report::size_figures;
use capwright::{Case, Conversion, convert, read_case};

const CASE: &str = include_str!("../cases/tern-harbour.toml");

fn main() -> Result<(), Box<dyn Error>> {
    let name = std::env::args().nth(1);
    let name = name.as_deref().unwrap_or("overlay");
    let case = read_case(CASE).0.ok_or("the case cannot be read")?;
    let conversion = convert(&case, Some(0)).map_err(|_| "the case cannot be converted")?;
    println!("{}", figure(&case, &conversion, name)?);
    Ok(())
}

/// The figure of this name of the first size. It stands alone and its ids begin with its own, so that
/// several can be set into one page.
fn figure(case: &Case, conversion: &Conversion, name: &str) -> Result<String, String> {
    let figures = size_figures(case, conversion, 0);
    let names: Vec<&str> = figures.iter().map(|figure| &*figure.name).collect();
    let unknown = || format!("there is no figure {name}; there are {}", names.join(", "));
    let found = figures.iter().find(|figure| figure.name == name);
    found.map(|f| f.svg.clone()).ok_or_else(unknown)
}
