//! Proofs, stories and ways back of a hand-made procedure; and each of them spoilt.

use tober_fit::orders::{Claim as Extreme, Side};
use tober_fit::procedure::{
    Bar, Barred, Change, Claim, Cut, Found, Home, Kind, Order, Program, Proof, Refusal, Retreat, State,
    Thing, Work, asked, enumerate, proof, retreat, story,
};

/// A mast (thing 0) goes up in step 0, is pinned in step 1 from a tray (home 1) into its foot (home 0), and something is hung on
/// it in step 2, which needs it up with two pins. Step 3 waits for nothing.
fn mast() -> Program {
    let state = |spot: usize| State { spot, ..State::default() };
    let thing = Thing {
        kind: Kind::Body,
        start: 0,
        states: vec![state(0), state(1)],
        open: Some(1),
        turns: false,
        live: None,
        blocked: vec![],
        locked: vec![],
        never_home: None,
    };
    let up = Work { changes: vec![Change { thing: 0, from: Some(0), to: 1 }], ..Work::default() };
    let pin = Work { pins: vec![(1, 0, 2)], ..Work::default() };
    let hang = Work { needs: vec![(0, 1)], least: vec![(0, 2)], ..Work::default() };
    Program {
        after: vec![vec![], vec![0], vec![1], vec![]],
        phase: vec![0; 4],
        work: vec![up, pin, hang, Work::default()],
        things: vec![thing],
        homes: vec![
            Home { start: Some(0), holds: 2, idle: false, lets_go: false },
            Home { start: Some(2), holds: 2, idle: false, lets_go: false },
        ],
        ..Program::default()
    }
}

fn order(program: &Program) -> Order {
    Order::new(program, &[]).expect("an order")
}

const UP: Claim = Claim::Begins { step: 2, thing: 0, state: 1 };
const PINNED: Claim = Claim::Least { step: 2, home: 0, count: 2 };

fn bars(writer: Option<usize>, by: Barred) -> Proof {
    Proof::Bars(vec![Bar { thing: 0, writer, by }])
}

/// Before step 2 the foot has what step 1 brought. Taken from it: nothing.
fn cut() -> Cut {
    let claim = Extreme { value: 2, done: vec![0, 1], under_way: vec![], moved: vec![] };
    Cut { home: 0, done: vec![0, 1], open: vec![2], side: Side::Least, claim }
}

#[test]
fn hand_the_mast_is_up_and_pinned_when_something_is_hung_on_it() {
    let program = mast();
    let order = order(&program);
    assert_eq!(proof(&program, &order, &UP, &bars(None, Barred::Overwritten(0))), Ok(()));
    assert_eq!(proof(&program, &order, &PINNED, &Proof::Cuts(vec![cut()])), Ok(()));
}

#[test]
fn refuse_a_bar_that_bars_nothing() {
    let program = mast();
    let order = order(&program);
    for (spoilt, refusal) in [
        // Step 1 does not write the mast; step 3 neither, and does not come before.
        (bars(None, Barred::Overwritten(1)), Refusal::BadBar { writer: None }),
        (bars(None, Barred::Overwritten(3)), Refusal::BadBar { writer: None }),
        (bars(None, Barred::NotYet), Refusal::BadBar { writer: None }),
        (bars(Some(0), Barred::NotYet), Refusal::NotBarred { writer: None }),
        (Proof::Bars(vec![]), Refusal::NotBarred { writer: None }),
        (Proof::Ordered, Refusal::WrongKind),
    ] {
        assert_eq!(proof(&program, &order, &UP, &spoilt), Err(refusal), "{spoilt:?}");
    }
}

#[test]
fn refuse_a_bar_where_the_rule_is_taken_out() {
    let mut program = mast();
    program.after[1].clear();
    let order = order(&program);
    // Now nothing has the mast up before step 2.
    let spoilt = bars(None, Barred::Overwritten(0));
    assert_eq!(proof(&program, &order, &UP, &spoilt), Err(Refusal::BadBar { writer: None }));
    assert_eq!(story(&program, &order, &UP, &[1], &[2]), Ok(()));
}

#[test]
fn refuse_a_cut_that_says_too_much_or_of_other_stages() {
    let program = mast();
    let order = order(&program);
    let spoil = |spoil: &dyn Fn(&mut Cut)| {
        let mut cut = cut();
        spoil(&mut cut);
        proof(&program, &order, &PINNED, &Proof::Cuts(vec![cut]))
    };
    assert!(matches!(spoil(&|cut| cut.claim.value = 3), Err(Refusal::Cut(_))));
    assert!(matches!(spoil(&|cut| cut.claim.value = 1), Err(Refusal::CutTooLow { bound: 1, wanted: 2 })));
    assert!(matches!(spoil(&|cut| cut.done.push(3)), Err(Refusal::NotCovered { .. })));
    assert!(matches!(spoil(&|cut| cut.home = 1), Err(Refusal::NotCovered { .. })));
    assert!(matches!(spoil(&|cut| cut.side = Side::Greatest), Err(Refusal::NotCovered { .. })));
}

#[test]
fn refuse_a_story_that_is_none() {
    let program = mast();
    let order = order(&program);
    let told = |done: &[usize], begun: &[usize]| story(&program, &order, &UP, done, begun);
    assert_eq!(told(&[0, 1], &[2]), Err(Refusal::NoOffence));
    assert_eq!(told(&[1, 0], &[2]), Err(Refusal::TooEarly { step: 1 }));
    assert_eq!(told(&[0, 0], &[]), Err(Refusal::Twice { step: 0 }));
    assert_eq!(told(&[0], &[2]), Err(Refusal::TooEarly { step: 2 }));
    assert_eq!(told(&[9], &[]), Err(Refusal::NoSuchStep(9)));
}

#[test]
fn refuse_a_way_back_out_of_order_or_short_or_over_what_cannot_be_undone() {
    let mut program = mast();
    let order = order(&program);
    let back = Retreat { stage: vec![0, 1, 2], undo: vec![2, 1, 0], left: vec![], home: true };
    let hold = [Claim::Bounds { home: 0 }, Claim::Bounds { home: 1 }];
    let check = |program: &Program, back: &Retreat| retreat(program, &order, &hold, back);
    assert_eq!(check(&program, &back), Ok(7));
    let with =
        |undo: &[usize], left: &[usize]| Retreat { undo: undo.into(), left: left.into(), ..back.clone() };
    assert_eq!(check(&program, &with(&[1, 2, 0], &[])), Err(Refusal::FollowerDone { step: 1, follower: 2 }));
    assert_eq!(check(&program, &with(&[2, 1], &[0])), Err(Refusal::StopsEarly { step: 0 }));
    assert_eq!(check(&program, &with(&[2, 1, 0], &[0])), Err(Refusal::EndsElsewhere));
    assert_eq!(check(&program, &with(&[2, 1, 0, 3], &[])), Err(Refusal::NotDone { step: 3 }));
    let gap = Retreat { stage: vec![0, 2], ..back.clone() };
    assert_eq!(check(&program, &gap), Err(Refusal::TooEarly { step: 2 }));
    program.work[0].for_good = true;
    assert_eq!(check(&program, &back), Err(Refusal::ForGood { step: 0 }));
    // The mast stays up: that is not home.
    assert_eq!(check(&program, &with(&[2, 1], &[0])), Err(Refusal::NotHome { thing: 0 }));
    let stays = Retreat { home: false, ..with(&[2, 1], &[0]) };
    assert_eq!(check(&program, &stays), Ok(5));
    // A pin too many on the way.
    program.work[1].pins.push((1, 0, 1));
    assert!(matches!(check(&program, &stays), Err(Refusal::Offends { .. })));
}

/// Step 0 unlocks the turntable (thing 0) by taking both pins out of its lock (home 0); step 1 turns it by 90 deg, for which
/// riders wait; step 2 turns it back and unplugs the drive (thing 1), which step 1 has put on. A plate (thing 2) closes a gap
/// beside a post (thing 3) and stays at home in its state 1, which nothing brings.
fn turntable() -> Program {
    let thing = |kind: Kind| Thing {
        kind,
        start: 0,
        states: vec![],
        open: None,
        turns: false,
        live: None,
        blocked: vec![],
        locked: vec![],
        never_home: None,
    };
    let lying = |room: Option<usize>| State { room, ..State::default() };
    let to = |thing: usize, to: usize| Change { thing, from: None, to };
    let out = Work { pins: vec![(0, 1, 2)], ..Work::default() };
    let turn = Work { changes: vec![to(0, 900), to(1, 1)], ..Work::default() };
    let back = Work { changes: vec![to(0, 0), to(1, 5)], ..Work::default() };
    let close = Work { changes: vec![Change { thing: 2, from: Some(0), to: 2 }], ..Work::default() };
    Program {
        after: vec![vec![], vec![0], vec![1], vec![0]],
        phase: vec![1, 1, 6, 1],
        work: vec![out, turn, back, close],
        things: vec![
            Thing { open: Some(900), locked: vec![0], ..thing(Kind::Turntable) },
            Thing { never_home: Some(1), ..thing(Kind::Switch) },
            Thing {
                states: vec![
                    State::default(),
                    State { without: true, ..State::default() },
                    State { beside: vec![(3, 0)], ..lying(Some(0)) },
                ],
                ..thing(Kind::Body)
            },
            Thing { states: vec![State::default(), lying(Some(0))], ..thing(Kind::Body) },
        ],
        homes: vec![
            Home { start: Some(2), holds: 2, idle: false, lets_go: false },
            Home { start: Some(0), holds: 2, idle: false, lets_go: false },
        ],
        open_after: Some(2),
        comes_home: true,
        ..Program::default()
    }
}

const UNLOCKED: Claim = Claim::Most { step: 1, home: 0, count: 0 };
const TURNED: Claim = Claim::OpenIs { thing: 0, state: 900 };
const DEAD: Claim = Claim::HomeNot { thing: 1, state: 1 };
const NEVER: Claim = Claim::Never { thing: 2, state: 1 };

/// Before step 1 the lock has what step 0 left.
fn unlocked() -> Cut {
    let claim = Extreme { value: 0, done: vec![0], under_way: vec![], moved: vec![] };
    Cut { home: 0, done: vec![0], open: vec![1], side: Side::Greatest, claim }
}

#[test]
fn hand_what_must_be_claimed_of_the_turntable_and_the_plate() {
    let asked = asked(&turntable());
    let gone =
        |step: usize, thing: usize, state: usize| Claim::BeginsNot { step, thing, states: vec![state] };
    for claim in [UNLOCKED, Claim::Most { step: 2, home: 0, count: 0 }, TURNED, DEAD, NEVER] {
        assert!(asked.contains(&claim), "{claim:?}");
    }
    // The plate comes in step 3 when the post stands and is not in the plate's room.
    assert!(asked.contains(&Claim::Begins { step: 3, thing: 3, state: 0 }));
    assert!(asked.contains(&gone(3, 3, 1)));
    // The turntable comes home, and the drive need only not be on.
    assert!(asked.contains(&Claim::Home { thing: 0 }));
    assert!(!asked.contains(&Claim::Home { thing: 1 }));
}

#[test]
fn hand_the_turntable_is_unlocked_turned_and_dead() {
    let program = turntable();
    let order = order(&program);
    let bar = |thing: usize, writer: Option<usize>, by: Barred| Bar { thing, writer, by };
    let bars = |all: &[Bar]| Proof::Bars(all.to_vec());
    let check = |claim: &Claim, with: &Proof| proof(&program, &order, claim, with);
    assert_eq!(check(&UNLOCKED, &Proof::Cuts(vec![unlocked()])), Ok(()));
    let (first, late) = (bar(0, None, Barred::Overwritten(1)), bar(0, Some(2), Barred::NotYet));
    assert_eq!(check(&TURNED, &bars(&[first, late])), Ok(()));
    assert_eq!(check(&DEAD, &bars(&[bar(1, Some(1), Barred::Overwritten(2))])), Ok(()));
    assert_eq!(check(&NEVER, &Proof::Plain), Ok(()));
    for claim in [UNLOCKED, TURNED, DEAD, NEVER] {
        let found = enumerate(&program, &order, &claim, 1_000).expect("it is sound");
        assert!(matches!(found, Found::Nothing { .. }), "{claim:?}: {found:?}");
    }
}

#[test]
fn refuse_spoilt_proofs_of_the_turntable() {
    let program = turntable();
    let order = order(&program);
    let bar = |thing: usize, writer: Option<usize>, by: Barred| Bar { thing, writer, by };
    let check = |claim: &Claim, with: Proof| proof(&program, &order, claim, &with);
    let spoil = |spoil: &dyn Fn(&mut Cut)| {
        let mut cut = unlocked();
        spoil(&mut cut);
        check(&UNLOCKED, Proof::Cuts(vec![cut]))
    };
    assert!(matches!(spoil(&|cut| cut.claim.value = -1), Err(Refusal::Cut(_))));
    assert!(matches!(spoil(&|cut| cut.claim.value = 1), Err(Refusal::CutTooLow { bound: 1, wanted: 0 })));
    assert!(matches!(spoil(&|cut| cut.side = Side::Least), Err(Refusal::NotCovered { .. })));
    assert!(matches!(spoil(&|cut| cut.home = 1), Err(Refusal::NotCovered { .. })));
    // Step 2 is not done when riders come, and says nothing of how it is then.
    let late = Proof::Bars(vec![bar(0, None, Barred::Overwritten(2)), bar(0, Some(2), Barred::NotYet)]);
    assert_eq!(check(&TURNED, late), Err(Refusal::BadBar { writer: None }));
    assert_eq!(check(&TURNED, Proof::Bars(vec![])), Err(Refusal::NotBarred { writer: None }));
    assert_eq!(check(&DEAD, Proof::Bars(vec![])), Err(Refusal::NotBarred { writer: Some(1) }));
    let not_yet = Proof::Bars(vec![bar(1, Some(1), Barred::NotYet)]);
    assert_eq!(check(&DEAD, not_yet), Err(Refusal::BadBar { writer: Some(1) }));
    for claim in [UNLOCKED, TURNED, DEAD] {
        assert_eq!(check(&claim, Proof::Plain), Err(Refusal::WrongKind), "{claim:?}");
    }
    let nowhere = Claim::Never { thing: 9, state: 0 };
    assert_eq!(check(&nowhere, Proof::Plain), Err(Refusal::NoSuchThing));
}

#[test]
fn refuse_what_no_longer_holds_of_the_turntable() {
    // Nothing says that the pins are out first; the drive is put on after it was unplugged; the plate is brought.
    let mut program = turntable();
    program.after[1].clear();
    program.work[2].changes[1].to = 1;
    program.work[3].changes[0].to = 1;
    let order = order(&program);
    assert_eq!(story(&program, &order, &UNLOCKED, &[], &[1]), Ok(()));
    assert!(matches!(
        proof(&program, &order, &UNLOCKED, &Proof::Cuts(vec![unlocked()])),
        Err(Refusal::NotCovered { .. })
    ));
    assert_eq!(story(&program, &order, &DEAD, &[1, 0, 3, 2], &[]), Ok(()));
    assert_eq!(story(&program, &order, &NEVER, &[0, 3], &[]), Ok(()));
    assert_eq!(proof(&program, &order, &NEVER, &Proof::Plain), Err(Refusal::NotBarred { writer: Some(3) }));
    // When riders come nothing but the turning may be left out.
    program.work[1].changes.remove(0);
    assert_eq!(story(&program, &order, &TURNED, &[0, 1, 3], &[]), Ok(()));
    assert_eq!(story(&program, &order, &TURNED, &[0, 1], &[]), Err(Refusal::NoOffence));
}
