//! Every random cap: plan -> text -> needle -> the plan again.

use crate::common::plans as common;
use capwright::convert::CapLoops;
use capwright::measure::Stitches;
use capwright::needle::{knit_file, knit_sentences, knit_sizes, prove};
use capwright::wording::{SleeveText, pick_up_lists, pick_up_section, write};
use proptest::prelude::*;

proptest! {
    /// The sum is the identity of the model: crown + flanks net of decreases + base.
    #[test]
    fn every_cap_knits_back(
        (plan, tube, cuff) in common::plan().prop_flat_map(|plan| {
            let upper_arm = plan.upper_arm().count();
            (Just(plan), common::tube(upper_arm))
        }).prop_flat_map(|(plan, tube)| {
            let cuff = common::cuff(&tube);
            (Just(plan), Just(tube), cuff)
        }),
        with_tube in any::<bool>(),
        with_cuff in any::<bool>(),
        style in common::style(),
    ) {
        let tube = with_tube.then_some(&tube);
        let cuff = (with_tube && with_cuff).then_some(&cuff);
        for &sleeve in common::sleeves(&plan) {
            let input = SleeveText { plan: &plan, tube, cuff, style, sleeve };
            let mut whole = write(&input);
            whole.sections.push(pick_up_section(&pick_up_lists(&input)));
            let sentences = whole.sentences();
            let text = sentences.join("\n");
            let (knitted, diagnostics) = knit_sentences(&sentences);
            prop_assert_eq!(&diagnostics, &[], "{}", &text);
            let proof = prove(&plan, (tube, cuff), style, sleeve, &knitted);
            prop_assert_eq!(&proof, &[], "{}", &text);
            let sum = plan.crown.stitches + plan.front.net() + plan.back.net() + plan.base();
            prop_assert_eq!(knitted.cap_end, sum);
            let tube = i64::from(sum.count()) + i64::from(plan.join_change);
            prop_assert_eq!(i64::from(knitted.upper_arm.count()), tube);
            // Without decreases every loop of a column is one loop of the needle.
            let rows: u32 = knitted.columns.iter().map(|c| c.rows.count()).sum();
            prop_assert!(knitted.cap_loops <= rows);
            prop_assert_eq!(knitted.cap_loops == rows, knitted.cap_decreases == 0);
            // Counted from the plan, without knitting: the needle ticks off the same loops.
            let loops = CapLoops::of(&plan, sleeve, style.hand);
            prop_assert_eq!(loops.rows.count(), knitted.cap_loops, "{}", &text);
            let picked_up = knitted.columns.iter().filter(|column| !column.live).count();
            prop_assert_eq!(loops.picked_up.count() as usize, picked_up);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// A plan whose moves were changed is not what the text knits.
    #[test]
    fn another_plan_is_not_proved(plan in common::plan(), style in common::style()) {
        let sleeve = common::sleeves(&plan)[0];
        let text = write(&SleeveText { plan: &plan, tube: None,
 cuff: None, style, sleeve });
        let (knitted, _) = knit_sentences(&text.sentences());
        let mut other = plan.clone();
        other.front.moves.rotate_left(1);
        other.back.moves.rotate_left(1);
        if other != plan {
            prop_assert!(!prove(&other, (None, None), style, sleeve, &knitted).is_empty());
        }
        let mut wider = plan;
        wider.base_front += Stitches(1);
        prop_assert!(!prove(&wider, (None, None), style, sleeve, &knitted).is_empty());
    }

    /// White space, line breaks and columns mean nothing.
    #[test]
    fn layout_means_nothing(plan in common::plan(), style in common::style()) {
        let sleeve = common::sleeves(&plan)[0];
        let sentences = write(&SleeveText { plan: &plan, tube: None,
 cuff: None, style, sleeve }).sentences();
        let (knitted, _) = knit_sentences(&sentences);
        let spread: Vec<String> = sentences
            .iter()
            .map(|s| if s == &s.to_uppercase() { s.clone() } else { s.replace(' ', "\n     ") })
            .collect();
        let page = format!(
            "A SLEEVE\nsome words. 12 of them.\n\n{}\n\nNOTES\nmore words\n",
            spread.join("\n\n")
        );
        let (pieces, diagnostics) = knit_file(&page);
        prop_assert_eq!(&diagnostics, &[]);
        prop_assert_eq!(pieces.len(), 1);
        prop_assert_eq!(&pieces[0].title, "A SLEEVE");
        prop_assert_eq!(&pieces[0].knitted, &knitted);
    }

    /// No text makes the needle fall over, and every place lies in the text.
    #[test]
    fn any_text_is_survived(text in "(PICK UP\n)?[ -~\n\u{e4}]{0,200}") {
        let (_, diagnostics) = knit_file(&text);
        for d in diagnostics {
            if let Some(span) = d.span {
                prop_assert!(text.get(span.from..span.to).is_some());
            }
        }
    }

    /// A good text with pieces cut out, doubled, moved or overwritten is survived, too.
    #[test]
    fn any_mangled_text_is_survived(
        plan in common::plan(),
        style in common::style(),
        edits in prop::collection::vec((any::<prop::sample::Index>(), 0usize..40, mangle()), 1..6),
    ) {
        let sleeve = common::sleeves(&plan)[0];
        let mut text = write(&SleeveText { plan: &plan, tube: None,
 cuff: None, style, sleeve })
            .sentences()
            .join("\n");
        text.push_str("\nTUBE\nDec round: k1, k2tog, k to the last 3 sts, ssk, k1. [2 sts fewer]\n");
        text.push_str("Work the dec round on every 2nd round, twice.\nInc round: k1, inc 1, k1.\n");
        for (at, length, with) in edits {
            let from = at.index(text.len());
            let to = (from + length).min(text.len());
            let cut = text[from..to].to_owned();
            text.replace_range(from..to, &with.replace('@', &cut));
        }
        let (_, diagnostics) = knit_sizes(&text);
        for span in diagnostics.iter().filter_map(|d| d.span) {
            prop_assert!(text.get(span.from..span.to).is_some());
        }
    }
}

/// What takes the place of a piece of text; `@` is the piece itself.
fn mangle() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        Just("@@".to_owned()),
        Just("4294967295".to_owned()),
        Just("99999999999 (0, 1)".to_owned()),
        Just(" [".to_owned()),
        Just("]. ".to_owned()),
        Just("(3, 4)".to_owned()),
        Just("The sizes are S / M.".to_owned()),
        Just("0 times".to_owned()),
        Just("TUBE".to_owned()),
    ]
}
