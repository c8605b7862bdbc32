//! What is written about, laid out as the needle goes.

use crate::case::{Style, Terms};
use crate::plan::{CapPlan, CuffPlan, Flank, Going, SectionName, Sleeve, TubePlan};

/// What a text is written from.
#[derive(Clone, Copy, Debug)]
pub struct SleeveText<'a> {
    /// The cap. Both flanks have as many moves, at least one; the base may be empty.
    pub plan: &'a CapPlan,
    /// The sleeve below it; left out, the text ends at the join.
    pub tube: Option<&'a TubePlan>,
    /// The cuff below the tube; left out, the text ends where it begins.
    pub cuff: Option<&'a CuffPlan>,
    /// Terms, turn and hand.
    pub style: Style,
    /// Which sleeve; [`Sleeve::needed`] says which texts a plan needs. `Both` of a plan whose
    /// flanks differ is written for the left sleeve.
    pub sleeve: Sleeve,
}

/// Everything the sections of a text share.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Writer<'a> {
    pub(crate) plan: &'a CapPlan,
    pub(crate) style: Style,
    pub(crate) sleeve: Sleeve,
    pub(crate) going: Going<'a>,
    /// Stitches that wait on the first and on the second flank beside those of the plan, until they are put right.
    pub(crate) beside: [i32; 2],
}

impl<'a> Writer<'a> {
    pub(crate) fn new(plan: &'a CapPlan, style: Style, sleeve: Sleeve) -> Self {
        let alike = Sleeve::needed(plan).contains(&Sleeve::Both);
        // One text for both sleeves would be wrong for one of them when the flanks differ.
        let sleeve = match sleeve {
            Sleeve::Both if !alike => Sleeve::Left,
            other => other,
        };
        Self {
            plan,
            style,
            sleeve,
            going: Going::round(plan, sleeve, style.hand),
            beside: [0, 0],
        }
    }

    /// The decrease that leans to the left, on the RS.
    pub(crate) fn left_leaning(&self) -> &'static str {
        match self.style.terms {
            Terms::Us => "ssk",
            Terms::Uk => "k2tog tbl",
        }
    }

    pub(crate) fn first_name(&self) -> &'static str {
        self.flank_name(SectionName::FirstFlank, self.going.first_is)
    }

    pub(crate) fn second_name(&self) -> &'static str {
        self.flank_name(SectionName::SecondFlank, self.going.first_is.other())
    }

    /// One text for both sleeves cannot say which flank is at the back.
    fn flank_name(&self, of_both: SectionName, flank: Flank) -> &'static str {
        match self.sleeve {
            Sleeve::Both => of_both.words(),
            Sleeve::Left | Sleeve::Right => SectionName::of(flank).words(),
        }
    }
}
