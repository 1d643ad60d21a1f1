use super::*;
use crate::fixture::{line, material, phased};
use crate::formula::Line;
use crate::history;
use crate::material::Class;
use proptest::prelude::*;

fn p(text: &str) -> Percent {
    text.parse().unwrap()
}

/// Phase A: water 80 (filler, 10) and glycerin 5 (11); phase B: oil 10 (12), wax 5 (13).
fn sample() -> Formula {
    let water = material("water", &[("Aqua", 100.0, Class::Water)]);
    let glycerin = material("glycerin", &[("Glycerin", 100.0, Class::Humectant)]);
    let oil = material("oil", &[("Oil", 100.0, Class::Oil)]);
    let wax = material("wax", &[("Wax", 100.0, Class::Oil)]);
    let f = phased(vec![
        vec![line(&water, "80"), line(&glycerin, "5")],
        vec![line(&oil, "10"), line(&wax, "5")],
    ]);
    run(&f, &Edit::SetFiller(Some(ItemId(10)))).formula
}

fn run(f: &Formula, edit: &Edit) -> Applied {
    apply(f, f.active, edit).unwrap()
}

fn fails(f: &Formula, edit: &Edit) -> EditError {
    apply(f, f.active, edit).unwrap_err()
}

fn set(line: u64, percent: &str, give: GiveWay) -> Edit {
    Edit::SetPercent {
        line: ItemId(line),
        percent: p(percent),
        give,
    }
}

fn percents(f: &Formula) -> Vec<String> {
    f.active()
        .lines()
        .map(|(_, l)| l.percent.to_string())
        .collect()
}

#[test]
fn the_filler_takes_the_difference_and_stops_at_zero() {
    let f = sample();
    let a = run(&f, &set(11, "7.5", GiveWay::Filler));
    assert_eq!(percents(&a.formula), ["77.5", "7.5", "10", "5"]);
    assert_eq!(a.stop, None);
    let a = run(&f, &set(11, "90", GiveWay::Filler));
    assert_eq!(percents(&a.formula), ["0", "85", "10", "5"]);
    assert_eq!(
        a.stop,
        Some(Stop {
            line: ItemId(10),
            bound: Bound::Zero,
            reached: p("85")
        })
    );
}

#[test]
fn own_bounds_stop_a_move_and_are_named() {
    let f = run(
        &sample(),
        &Edit::SetRange {
            line: ItemId(11),
            min: Some(p("2")),
            max: Some(p("6")),
        },
    )
    .formula;
    let a = run(&f, &set(11, "9", GiveWay::Filler));
    assert_eq!(
        a.stop.map(|s| (s.line, s.bound, s.reached)),
        Some((ItemId(11), Bound::OwnHighest, p("6")))
    );
    // The history tells where the line came to stand, not what was asked for.
    let edit = set(11, "9", GiveWay::Filler);
    let words = edit.describe(&f, f.active, a.stop);
    assert!(words.ends_with(" to 6 %"), "{words}");
    let a = run(&f, &set(11, "0", GiveWay::Filler));
    assert_eq!(a.stop.map(|s| s.bound), Some(Bound::OwnLowest));
    let f = run(
        &sample(),
        &Edit::SetRange {
            line: ItemId(10),
            min: Some(p("70")),
            max: None,
        },
    )
    .formula;
    let a = run(&f, &set(12, "30", GiveWay::Filler));
    assert_eq!(
        a.stop.map(|s| (s.line, s.bound, s.reached)),
        Some((ItemId(10), Bound::OwnLowest, p("20")))
    );
}

#[test]
fn the_phase_or_all_lines_give_way_in_proportion() {
    let f = sample();
    assert_eq!(
        percents(&run(&f, &set(12, "12", GiveWay::Phase)).formula),
        ["80", "5", "12", "3"]
    );
    let a = run(&f, &set(12, "19", GiveWay::All)).formula;
    assert_eq!(percents(&a), ["72", "4.5", "19", "4.5"]);
    let held = run(
        &f,
        &Edit::SetHeld {
            line: ItemId(13),
            held: true,
        },
    )
    .formula;
    assert_eq!(
        percents(&run(&held, &set(12, "18.5", GiveWay::All)).formula),
        ["72", "4.5", "18.5", "5"]
    );
    let a = run(&held, &set(12, "11", GiveWay::Phase));
    assert_eq!(a.stop.map(|s| s.bound), Some(Bound::NothingGivesWay));
    assert_eq!(percents(&a.formula), percents(&held));
}

#[test]
fn what_cannot_be_done_says_so_and_changes_nothing() {
    let f = sample();
    assert_eq!(
        fails(&f, &set(10, "50", GiveWay::Filler)),
        EditError::FillerFollows
    );
    assert_eq!(
        fails(&f, &set(99, "5", GiveWay::Filler)),
        EditError::NoSuchItem
    );
    assert_eq!(
        fails(&f, &set(11, "101", GiveWay::Filler)),
        EditError::OutOfRange(p("101"))
    );
    assert_eq!(
        fails(
            &f,
            &Edit::SetHeld {
                line: ItemId(10),
                held: true
            }
        ),
        EditError::FillerHeld
    );
    assert_eq!(fails(&f, &Edit::Rename(" ".into())), EditError::NoName);
    let full = run(
        &f,
        &Edit::SetRange {
            line: ItemId(10),
            min: None,
            max: Some(p("82")),
        },
    )
    .formula;
    assert!(matches!(
        fails(&full, &Edit::RemoveLine(ItemId(12))),
        EditError::FillerCannot { .. }
    ));
}

#[test]
fn lines_are_added_moved_swapped_and_removed() {
    let f = sample();
    let honey = material("honey", &[("Mel", 100.0, Class::Humectant)]);
    let add = |percent: &str| Edit::AddLine {
        phase: ItemId(101),
        at: 1,
        material: honey.clone(),
        percent: p(percent),
    };
    let a = run(&f, &add("3"));
    assert_eq!(percents(&a.formula), ["77", "5", "10", "3", "5"]);
    let id = a.created.unwrap();
    let moved = run(
        &a.formula,
        &Edit::MoveLine {
            line: id,
            phase: ItemId(100),
            at: 0,
        },
    )
    .formula;
    assert_eq!(percents(&moved), ["3", "77", "5", "10", "5"]);
    assert_eq!(run(&f, &add("95")).stop.map(|s| s.reached), Some(p("80")));
    let gone = run(&moved, &Edit::RemoveLine(id)).formula;
    assert_eq!(percents(&gone), percents(&f));
    assert!(!gone.materials.contains_key(&honey.id));
    let swapped = run(
        &f,
        &Edit::SwapMaterial {
            line: ItemId(11),
            material: honey.clone(),
            percent: Some(p("6")),
        },
    )
    .formula;
    assert_eq!(percents(&swapped), ["79", "6", "10", "5"]);
    assert_eq!(swapped.materials.len(), 4);
}

#[test]
fn a_phase_scales_until_a_bound_holds_it() {
    let f = sample();
    let scale = |factor: f64| Edit::ScalePhase {
        phase: ItemId(101),
        factor,
    };
    assert_eq!(
        percents(&run(&f, &scale(2.0)).formula),
        ["65", "5", "20", "10"]
    );
    assert_eq!(
        percents(&run(&f, &scale(0.5)).formula),
        ["87.5", "5", "5", "2.5"]
    );
    let a = run(&f, &scale(10.0));
    assert_eq!(
        a.stop.map(|s| (s.line, s.bound)),
        Some((ItemId(10), Bound::Zero))
    );
    assert_eq!(a.formula.active().total(), Percent::HUNDRED);
    assert_eq!(fails(&f, &scale(0.0)), EditError::NotPositive);
    assert_eq!(fails(&f, &scale(f64::NAN)), EditError::NotPositive);
}

#[test]
fn what_gives_way_lands_on_the_step_chosen() {
    let f = sample();
    let on = |f: &Formula, edit: &Edit, step: &str| {
        let done = apply_in_steps(f, f.active, edit, p(step)).unwrap();
        percents(&done.formula)
    };
    // In proportion 72, 4.5 and 4.5; a whole step goes to the first of two equal remainders.
    let all = set(12, "19", GiveWay::All);
    assert_eq!(on(&f, &all, "1"), ["72", "4", "19", "5"]);
    assert_eq!(on(&f, &all, "0.1"), ["72", "4.5", "19", "4.5"]);
    // In proportion 12.5 and 6.25; the filler takes the rest.
    let scale = |factor| Edit::ScalePhase {
        phase: ItemId(101),
        factor,
    };
    assert_eq!(on(&f, &scale(1.25), "1"), ["77", "5", "12", "6"]);
    assert_eq!(on(&f, &scale(1.25), "0.1"), ["76.3", "5", "12.5", "6.2"]);
    assert_eq!(on(&f, &scale(1.25), "0.01"), ["76.25", "5", "12.5", "6.25"]);
    // A small line moves as finely as it was typed, a large one on the step from where it is.
    let fine = run(&f, &set(13, "0.055", GiveWay::Filler)).formula;
    let fine = run(&fine, &set(12, "10.003", GiveWay::Filler)).formula;
    let scaled = on(&fine, &scale(2.0), "0.01");
    assert_eq!(scaled, ["74.887", "5", "20.003", "0.11"]);
}

#[test]
fn without_a_filler_free_lines_bring_the_total_to_100() {
    let f = run(&sample(), &Edit::SetFiller(None)).formula;
    let f = run(&f, &set(12, "20", GiveWay::Filler)).formula;
    assert_eq!(f.active().total(), p("110"));
    let f = run(
        &f,
        &Edit::SetHeld {
            line: ItemId(13),
            held: true,
        },
    )
    .formula;
    let f = run(&f, &Edit::BringTo100).formula;
    assert_eq!(f.active().total(), Percent::HUNDRED);
    assert_eq!(f.active().line(ItemId(13)).unwrap().percent, p("5"));
}

#[test]
fn phases_and_steps() {
    let f = sample();
    let a = run(
        &f,
        &Edit::AddPhase {
            at: 1,
            kind: PhaseKind::CoolDown,
            purpose: "Scent".into(),
        },
    );
    assert_eq!(a.formula.active().phases[1].letter.as_ref(), "C");
    let id = a.created.unwrap();
    let step = Step {
        id: ItemId(0),
        text: "Stir".into(),
        temperature: None,
        minutes: Some(5),
        tool: "".into(),
        check: "".into(),
    };
    let b = run(
        &a.formula,
        &Edit::AddStep {
            phase: id,
            at: 9,
            step: step.clone(),
        },
    );
    let step_id = b.created.unwrap();
    let c = run(
        &b.formula,
        &Edit::SetStep(Step {
            id: step_id,
            minutes: Some(7),
            ..step
        }),
    )
    .formula;
    assert_eq!(c.active().phase(id).unwrap().steps[0].minutes, Some(7));
    let d = run(&c, &Edit::RemoveStep(step_id)).formula;
    assert!(d.active().phase(id).unwrap().steps.is_empty());
    let e = run(&d, &Edit::MovePhase { phase: id, at: 5 }).formula;
    assert_eq!(e.active().phases[2].id, id);
    let g = run(&e, &Edit::RemovePhase(ItemId(101))).formula;
    assert_eq!(percents(&g), ["95", "5"]);
}

/// Any edit of percentages, described by small numbers.
fn some_edit() -> impl Strategy<Value = Edit> {
    let line = (10u64..16).prop_map(ItemId);
    let percent = (0i64..=100_000_000).prop_map(Percent::from_units);
    let give = prop_oneof![
        Just(GiveWay::Filler),
        Just(GiveWay::Phase),
        Just(GiveWay::All)
    ];
    prop_oneof![
        6 => (line.clone(), percent.clone(), give).prop_map(|(line, percent, give)| Edit::SetPercent { line, percent, give }),
        1 => (line.clone(), any::<bool>()).prop_map(|(line, held)| Edit::SetHeld { line, held }),
        1 => (line.clone(), percent.clone(), percent.clone()).prop_map(|(line, a, b)| Edit::SetRange { line, min: Some(a.min(b)), max: Some(a.max(b)) }),
        1 => line.clone().prop_map(|line| Edit::SetRange { line, min: None, max: None }),
        1 => line.clone().prop_map(|line| Edit::SetFiller(Some(line))),
        1 => line.clone().prop_map(Edit::RemoveLine),
        1 => (100u64..102, 0usize..4, percent).prop_map(|(phase, at, percent)| Edit::AddLine {
            phase: ItemId(phase), at, material: material("honey", &[("Mel", 100.0, Class::Humectant)]), percent }),
        1 => (100u64..102, 0.05f64..8.0).prop_map(|(phase, factor)| Edit::ScalePhase { phase: ItemId(phase), factor }),
        1 => Just(Edit::BringTo100),
        1 => (line, 100u64..102, 0usize..4).prop_map(|(line, phase, at)| Edit::MoveLine { line, phase: ItemId(phase), at }),
    ]
}

#[test]
fn no_two_variants_share_a_name() {
    let branch = |f: &Formula, name: &str| {
        let edit = Edit::Branch {
            name: name.into(),
            note: "".into(),
            created: None,
        };
        run(f, &edit).formula
    };
    let f = branch(&branch(&branch(&sample(), "Winter"), " winter "), "Winter");
    let names: Vec<&str> = f.variants.iter().skip(1).map(|v| &*v.name).collect();
    assert_eq!(names, ["Winter", "winter (2)", "Winter (3)"]);
    let rename = |name: &str| Edit::RenameVariant(name.into());
    assert_eq!(
        fails(&f, &rename("WINTER")),
        EditError::NameTaken("WINTER".into())
    );
    // Its own name may be written anew.
    let again = run(&f, &rename("winter (3)")).formula;
    assert_eq!(&*again.active().name, "winter (3)");
}

#[test]
fn a_branch_is_a_copy_with_its_parent_and_is_worked_on() {
    let f = sample();
    let parent = f.active;
    let branch = Edit::Branch {
        name: " Second ".into(),
        note: "less oil".into(),
        created: None,
    };
    let f2 = run(&f, &branch).formula;
    assert_eq!(f2.variants.len(), 2);
    assert_eq!(f2.active().name.as_ref(), "Second");
    assert_eq!(f2.active().parent, Some(parent));
    assert_eq!(f2.active().phases, f.active().phases);
    assert!(Arc::ptr_eq(&f2.active().phases[0], &f.active().phases[0]));
    // The parent stays as it is when the branch changes.
    let line = ItemId(11);
    let edit = Edit::SetPercent {
        line,
        percent: p("7"),
        give: GiveWay::Filler,
    };
    let f3 = run(&f2, &edit).formula;
    assert_eq!(f3.variants[0], f.variants[0]);
    assert_eq!(f3.active().line(line).unwrap().percent, p("7"));
    let f4 = apply(&f3, parent, &Edit::MakeActive).unwrap().formula;
    assert_eq!(f4.active, parent);
    let away = apply(&f4, f3.active, &Edit::SetArchived(true)).unwrap();
    assert!(away.formula.variants[1].archived);
    assert_eq!(away.formula.variants[1].phases, f3.active().phases);
    assert!(matches!(
        apply(
            &f,
            parent,
            &Edit::Branch {
                name: " ".into(),
                note: "".into(),
                created: None
            }
        ),
        Err(EditError::NoName)
    ));
}

#[test]
fn an_earlier_state_comes_back_and_pruning_forgets() {
    let f = sample();
    let line = ItemId(11);
    let edit = Edit::SetPercent {
        line,
        percent: p("7"),
        give: GiveWay::Filler,
    };
    let mut changed = run(&f, &edit).formula;
    history::remember(&f, &mut changed, "2026-05-01T10:00:00Z", "Set");
    let back = run(&changed, &Edit::Restore(0)).formula;
    assert_eq!(back.active(), f.active());
    assert!(matches!(
        apply(&changed, changed.active, &Edit::Restore(1)),
        Err(EditError::NoSuchItem)
    ));
    let pruned = run(&changed, &Edit::PruneHistory { keep: 0 }).formula;
    assert!(pruned.history.is_empty());
    assert_eq!(pruned.active(), changed.active());
}

#[test]
fn what_is_carried_keeps_the_total_at_100() {
    let f = sample();
    let mut content = f.active().as_ref().clone();
    let phase = Arc::make_mut(&mut content.phases[0]);
    phase.lines[1].percent = p("9");
    phase.lines[1].id = ItemId(5000);
    let edit = Edit::Carry {
        variant: Arc::new(content),
        materials: Vec::new(),
        what: "Carry glycerin across".into(),
    };
    let after = run(&f, &edit).formula;
    assert_eq!(after.active().total(), Percent::HUNDRED);
    assert_eq!(after.active().line(ItemId(10)).unwrap().percent, p("76"));
    assert!(after.next_id > 5000);
    assert_eq!(edit.describe(&f, f.active, None), "Carry glycerin across");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn a_formula_with_a_filler_totals_exactly_100(edits in prop::collection::vec(some_edit(), 1..60)) {
        let mut f = sample();
        let mut undo = vec![(f.clone(), format!("{f:?}"))];
        for edit in &edits {
            let before: Vec<Line> = f.active().lines().map(|(_, l)| l.clone()).collect();
            if let Ok(applied) = apply(&f, f.active, edit) {
                f = applied.formula;
                undo.push((f.clone(), format!("{f:?}")));
            }
            let v = f.active();
            if v.filler.is_some() {
                prop_assert_eq!(v.total(), Percent::HUNDRED);
            }
            for (_, l) in v.lines() {
                prop_assert!(l.percent >= Percent::ZERO && l.percent <= Percent::HUNDRED, "{:?} after {:?}", l, edit);
                // A held line moves only if it is the one that is set.
                if let Some(old) = before.iter().find(|b| b.id == l.id)
                    && old.held && l.held
                    && !matches!(edit, Edit::SetPercent { line, .. } if *line == l.id)
                {
                    prop_assert_eq!(old.percent, l.percent);
                }
            }
        }
        // Undo keeps whole states with shared parts: no later edit may have touched an
        // earlier state.
        for (state, printed) in &undo {
            prop_assert_eq!(&format!("{state:?}"), printed);
        }
    }

    #[test]
    fn a_move_never_passes_a_bound(wanted in 0i64..=100_000_000, low in 0i64..50_000_000, high in 50_000_000i64..=100_000_000, give in 0usize..3) {
        let f = run(&sample(), &Edit::SetRange { line: ItemId(12), min: Some(Percent::from_units(low.min(10_000_000))), max: Some(Percent::from_units(high)) }).formula;
        let edit = Edit::SetPercent { line: ItemId(12), percent: Percent::from_units(wanted), give: GiveWay::ALL[give] };
        let a = run(&f, &edit);
        let reached = a.formula.active().line(ItemId(12)).unwrap().percent;
        prop_assert!(reached.units() >= low.min(10_000_000) && reached.units() <= high);
        prop_assert_eq!(a.stop.is_none(), reached.units() == wanted);
        let (least, most) = room(&f, f.active(), ItemId(12), GiveWay::ALL[give]).unwrap();
        prop_assert!(least <= reached && reached <= most);
    }
}

/// A gel of a filler, a humectant, a preservative and an acid; what the last two are there
/// for sets their amount.
#[test]
fn what_keeps_and_adjusts_is_not_scaled_with_the_rest() {
    let f = phased(vec![vec![
        line(&material("water", &[("Aqua", 100.0, Class::Water)]), "80"),
        line(
            &material("glycerin", &[("Glycerin", 100.0, Class::Humectant)]),
            "15",
        ),
        line(
            &material(
                "benzoate",
                &[("Sodium Benzoate", 100.0, Class::Preservative)],
            ),
            "0.5",
        ),
        line(
            &material("citric", &[("Citric Acid", 100.0, Class::AcidBase)]),
            "0.3",
        ),
        line(
            &material("red", &[("CI 16035", 100.0, Class::Colour)]),
            "0.01",
        ),
    ]]);
    let percents = |f: &Formula| -> Vec<String> {
        f.active()
            .lines()
            .map(|(_, l)| l.percent.to_string())
            .collect()
    };
    let edits = [
        Edit::SetPercent {
            line: ItemId(11),
            percent: p("20"),
            give: GiveWay::All,
        },
        Edit::ScalePhase {
            phase: f.active().phases[0].id,
            factor: 0.9,
        },
        Edit::BringTo100,
    ];
    for edit in edits {
        let after = percents(&run(&f, &edit).formula);
        assert_eq!(after[2..], ["0.5", "0.3", "0.01"], "{edit:?}");
        for percent in &after {
            let digits = percent.split_once('.').map_or(0, |(_, d)| d.len());
            assert!(digits <= 2, "{edit:?}: {after:?}");
        }
    }
}

/// Two variants of one name cannot be told apart, so that going back does not make them.
#[test]
fn going_back_takes_no_name_that_another_variant_has() {
    let mut formula = sample();
    let id = formula.active;
    let first = formula.active().name.clone();
    let kept = |variant: Variant| {
        Arc::new(crate::formula::EarlierState {
            at: "2026-05-01T10:00:00Z".into(),
            what: "Change the note".into(),
            variant: Arc::new(variant),
        })
    };
    let mut earlier = formula.active().as_ref().clone();
    earlier.note = "earlier".into();
    earlier.archived = true;
    formula.history.push(kept(earlier));
    let named = run(&formula, &Edit::RenameVariant("Milder".into())).formula;
    // The name comes back where it is free, and the variant stays in use.
    let back = run(&named, &Edit::Restore(0)).formula;
    assert_eq!(back.active().name, first);
    assert_eq!(&*back.active().note, "earlier");
    assert!(!back.active().archived);
    // Where another variant has it, in capitals or not, the present one stays.
    let mut taken = named.clone();
    let mut other = named.active().as_ref().clone();
    other.id = VariantId(taken.take_id());
    other.name = first.to_uppercase().into();
    taken.variants.push(Arc::new(other));
    let back = apply(&taken, id, &Edit::Restore(0)).unwrap().formula;
    let variant = back.variant(id).unwrap();
    assert_eq!((&*variant.name, &*variant.note), ("Milder", "earlier"));
}
