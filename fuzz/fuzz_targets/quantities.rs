//! Any text as any quantity: what is read and printed is read again, and printed again the same.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tober_quantity::{
    Acceleration, Angle, Area, Current, Density, Force, FrequencyOfTurning, Inertia, Length, Mass, Moment,
    Power, Pressure, Quantity, Ratio, Rounding, SecondMoment, Slope, Speed, Stiffness, Subgrade, Temperature,
    Time, UnitSet, Voltage,
};

fn law<Q: Quantity>(text: &str) {
    let _ = Q::parse_toleranced(text);
    let Ok(read) = Q::parse(text) else { return };
    assert!(read.si().is_finite());
    for units in UnitSet::ALL {
        let print = |rounding| read.amount().print(units, rounding);
        let printed = print(Rounding::Nearest);
        let again = match Q::parse(&printed) {
            Ok(again) => again,
            // The greatest and the least that are read (0 K) may round past themselves. Rounded the other way
            // they are read, and nothing else may be refused.
            Err(_)
                if [Rounding::Capacity, Rounding::Requirement]
                    .iter()
                    .any(|way| Q::parse(&print(*way)).is_ok()) =>
            {
                continue;
            }
            Err(refused) => panic!("{text:?} printed {printed:?}: {refused}"),
        };
        assert_eq!(printed, again.amount().print(units, Rounding::Nearest), "{text:?}");
    }
}

macro_rules! each {
    ($text:ident: $($quantity:ident)*) => { $( law::<$quantity>($text); )* };
}

fuzz_target!(|text: &str| {
    each!(text: Acceleration Angle Area Current Density Force FrequencyOfTurning Inertia Length Mass Moment
        Power Pressure Ratio SecondMoment Slope Speed Stiffness Subgrade Temperature Time Voltage);
});
