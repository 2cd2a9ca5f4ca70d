//! Any text as a quantity: what is read and printed is read again as the same, to the printed digit.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tober_quantity::{Length, Mass, Pressure, Quantity, Rounding, UnitSet};

fn law<Q: Quantity>(text: &str) {
    let Ok(read) = Q::parse(text) else { return };
    for units in UnitSet::ALL {
        let printed = read.amount().print(units, Rounding::Nearest);
        let again = Q::parse(&printed).expect("what is printed can be read");
        let once_more = again.amount().print(units, Rounding::Nearest);
        assert_eq!(printed, once_more);
    }
}

fuzz_target!(|text: &str| {
    law::<Length>(text);
    law::<Mass>(text);
    law::<Pressure>(text);
    let _ = Mass::parse_toleranced(text);
});
