//! All tests in one binary, in folders by room.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::float_cmp,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "tests: a panic is a failed test, and what is compared comes from text"
)]

mod adapt {
    mod case;
    mod least;
    mod neighbours;
    mod outline;
    mod random;
}
mod body {
    mod answers;
    mod arms;
    mod sizes;
    mod tables;
}
mod case {
    mod counts;
    mod edit;
    mod write;
}
mod check {
    mod arms;
    mod case;
    mod findings;
    mod rules;
    mod table;
}
mod cli {
    mod bad_input;
    mod cases;
    mod chair;
    mod choice;
    mod follow;
    mod manual;
    mod new;
    mod output;
    mod read;
}
mod common;
mod convert {
    mod cure;
    mod landmarks;
    mod needles_trial;
    mod on_needles;
    mod other_needles;
    mod random;
    mod schema;
    mod so_far;
}
mod drift {
    mod sleeves;
    mod spread;
    mod text;
}
mod figure {
    mod paths;
    mod words;
    mod xml;
}
mod fit {
    mod brute_force;
    mod certificate;
    mod example;
    mod mixed_integer;
    mod oblique;
    mod odd_caps;
    mod outline;
    mod properties;
    mod recipe;
    mod relaxed;
    mod rest;
    mod same_runs;
    mod shortest_path;
}
mod fit_oracle;
mod house {
    mod circles;
    mod dependencies;
    mod imports;
    mod needles;
    mod promises;
    mod readme;
    mod source;
}
mod leaflet {
    mod amend;
    mod amended_words;
    mod changes;
    mod crosschecks;
    mod doubts;
    mod increases;
    mod numbers;
    mod patterns;
    mod second_trial;
    mod third_trial;
    mod trial;
}
mod needle {
    mod beside;
    mod by_hand;
    mod mutations;
    mod round_trip;
}
mod outline {
    mod armhole;
    mod counted;
    mod curve;
    mod shapes;
}
mod pages {
    mod grading;
    mod html;
    mod pdf;
}
mod pattern {
    mod account;
    mod any_text;
    mod by_hand;
    mod fuzz_seeds;
    mod misprints;
    mod probe;
    mod probe_wordings;
    mod probe_words;
    mod published;
    mod repair;
    mod round_trip;
    mod templates;
}
mod pattern_texts;
mod stitch {
    mod asked;
    mod case;
    mod cases;
    mod repeats;
    mod stripes;
    mod table;
    mod together;
    mod tube;
    mod weaver;
    mod words;
}
mod swatch {
    mod coverage;
    mod drift;
    mod findings;
    mod measure;
    mod statistics;
}
mod trouble {
    mod advice;
    mod any_input;
    mod attacks;
    mod batch;
    mod foreign_text;
    mod limits;
    mod lines;
    mod other_doors;
    mod stop;
}
mod wording {
    mod abbreviations;
    mod bodies;
    mod checklist;
    mod example;
    mod garment;
    mod size_set;
    mod together;
}
mod workbench {
    mod api;
    mod server;
}
