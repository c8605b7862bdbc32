//! The probe: each word changed for another that means something else, and the text read again.

use crate::diagnostic::{Diagnostic, Span};

use super::clause::parse_lexed;
use super::lexeme::{Lexed, lexemes};
use super::program::{Action, Program, Step};
use super::term::{Lexeme, Term};

/// What is put in a word's place.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Other {
    Term(Term),
    Value(f64),
    Nothing,
}

fn others(terms: &[Lexeme], at: usize) -> Vec<Other> {
    let Some(lexeme) = terms.get(at) else { return Vec::new() };
    let next = terms.get(at + 1).map(|l| l.term);
    let edge = [Term::End, Term::Side, Term::Edge, Term::Armhole, Term::Neck];
    let of_row = next == Some(Term::Row);
    match lexeme.term {
        Term::Number | Term::Ordinal | Term::Often => vec![Other::Value(lexeme.value + 1.0)],
        Term::Rs => vec![Other::Term(Term::Ws)],
        Term::Ws => vec![Other::Term(Term::Rs)],
        Term::Knit if of_row => vec![Other::Term(Term::Purl)],
        Term::Purl if of_row => vec![Other::Term(Term::Knit)],
        Term::More | Term::InAll | Term::Turn | Term::Centre | Term::Only | Term::Except | Term::Not | Term::When | Term::SameTime | Term::Up
            | Term::Before | Term::From | Term::Until | Term::Inside | Term::Apart | Term::Done | Term::Facing | Term::Alternately
            => vec![Other::Nothing],
        Term::Beginning => vec![Other::Term(Term::End)],
        Term::End => vec![Other::Term(Term::Beginning)],
        Term::Every if next.is_some_and(|t| edge.contains(&t)) => vec![Other::Nothing],
        Term::Every => vec![Other::Term(Term::Next)],
        Term::Armhole => vec![Other::Term(Term::Neck)],
        Term::Neck => vec![Other::Term(Term::Armhole)],
        Term::Alternate => vec![Other::Nothing],
        Term::Last => vec![Other::Term(Term::Next)],
        Term::Next => vec![Other::Term(Term::Last)],
        Term::Larger => vec![Other::Term(Term::Smaller)],
        Term::Smaller => vec![Other::Term(Term::Larger)],
        Term::Dec => vec![Other::Term(Term::Inc)],
        Term::Inc => vec![Other::Term(Term::Dec)],
        Term::BindOff => vec![Other::Term(Term::CastOn)],
        Term::CastOn => vec![Other::Term(Term::BindOff)],
        Term::Row => vec![Other::Term(Term::Stitch)],
        Term::Stitch => vec![Other::Term(Term::Row)],
        Term::Inch => vec![Other::Term(Term::Cm)],
        Term::Cm => vec![Other::Term(Term::Inch)],
        Term::Rep => vec![Other::Nothing],
        _ => Vec::new(),
    }
}

fn changed(lexed: &Lexed, at: usize, other: Other) -> Lexed {
    let mut lexed = lexed.clone();
    match (other, lexed.terms.get_mut(at)) {
        (Other::Nothing, _) => {
            lexed.terms.remove(at);
        }
        (Other::Term(term), Some(lexeme)) => {
            (lexeme.term, lexeme.value) = (term, 1.0);
        }
        (Other::Value(value), Some(lexeme)) => lexeme.value = value,
        (_, None) => {}
    }
    lexed
}

/// What was read, without the places of its words.
fn read(text: &str, labels: &[String], lexed: Lexed) -> (Program, Vec<(&'static str, String)>) {
    let (mut program, said) = parse_lexed(text, labels, lexed);
    bare(&mut program);
    (program, said.into_iter().map(|d: Diagnostic| (d.code.id, d.message)).collect())
}

fn bare(program: &mut Program) {
    const NOWHERE: Span = Span { from: 0, to: 0 };
    fn steps(list: &mut [Step]) {
        for step in list {
            step.span = NOWHERE;
            match &mut step.action {
                Action::Shape(part) => part.span = NOWHERE,
                Action::Group { steps: inner, .. }
                | Action::Within { steps: inner, .. }
                | Action::Together { steps: inner, .. } => steps(inner),
                _ => {}
            }
        }
    }
    steps(&mut program.steps);
    for amount in &mut program.amounts {
        amount.span = NOWHERE;
        for entry in &mut amount.entries {
            entry.span = NOWHERE;
        }
    }
    for choice in &mut program.choices {
        choice.span = NOWHERE;
    }
}

/// For experiments.
pub fn report(text: &str, labels: &[String]) -> Vec<String> {
    let lexed = lexemes(text, labels);
    let before = read(text, labels, lexed.clone());
    let mut out = Vec::new();
    for at in 0..lexed.terms.len() {
        for other in others(&lexed.terms, at) {
            if read(text, labels, changed(&lexed, at, other)) == before {
                let l = lexed.terms[at];
                out.push(format!("{:?}>{other:?}\t{}", l.term, text[..l.span.from].to_owned() + "<<" + &text[l.span.from..l.span.to] + ">>" + &text[l.span.to..]));
            }
        }
    }
    out
}
