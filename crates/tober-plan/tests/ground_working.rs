//! Every printed line of the ground's and the survey's findings is read back and worked out again.

use tober_calc::finding::{Finding, Subject};
use tober_calc::ground::{
    Allowed, Crush, Grain, Ground, Layer, LoadDuration, PlanSize, Service, SinkTest, Stack, Surface,
    TimberUse, Wetness, crushing_of_stack, ground_pressure, presumptive_table, sink_under_load, spread,
    timber,
};
use tober_calc::survey::{Closure, ClosureLimit, closure_finding};
use tober_fit::working::check_line;
use tober_quantity::{Force, Length, Ratio, Time, UnitSet};

fn stack(wood: &str) -> Stack {
    let layer = |grain, boards| Layer {
        thickness: Length::mm(47.0),
        length: Length::mm(610.0),
        width: Length::mm(203.0),
        boards,
        grain,
        off_along: Length::mm(11.0),
        off_across: Length::mm(-7.0),
        timber: Some(timber(wood).expect("listed")),
    };
    Stack {
        foot: PlanSize { along: Length::mm(187.0), across: Length::mm(231.0) },
        layers: vec![layer(Grain::Along, 2), layer(Grain::Across, 3)],
    }
}

fn findings() -> Vec<Finding> {
    let leg = Subject::Support("front left".into());
    let load = (Force::kn(17.3), Force::kn(23.7));
    let used = TimberUse {
        service: Service::Wet,
        duration: LoadDuration::Medium,
        crush: Crush::TwoHundredths,
        load_factor: Ratio::one(1.5),
    };
    let table = presumptive_table("IBC 2012 1806.2").expect("listed");
    let ground = Ground {
        surface: Some(Surface::BelowTopsoil),
        wet: Some(Wetness::Dry),
        water_depth: Some(Length::mm(130.0)),
        allowed: Some(Allowed::Class { table, class: &table.classes[2] }),
    };
    let mut found = Vec::new();
    for wood in ["C24", "hem-fir"] {
        let stack = stack(wood);
        let spread = spread(&stack).expect("a sound stack");
        found.extend(crushing_of_stack(&leg, load, &stack, &spread, &used).expect("sound"));
        found.push(ground_pressure(leg.clone(), load, &spread, &ground).expect("sound"));
        let test = SinkTest {
            load: Force::kn(21.0),
            load_off_by: Force::kn(0.7),
            plate: spread.base,
            waited: Time::min_(16.0),
            sink: Length::mm(3.3),
            sink_off_by: Length::mm(0.6),
        };
        let most = Some(Length::mm(12.0));
        found.push(sink_under_load(leg.clone(), &test, load, spread.base, most).expect("sound"));
    }
    let closure = Closure {
        from: "A".into(),
        to: "A".into(),
        set_ups: 3,
        distance: Some(Length::m(71.0)),
        misclosure: Length::mm(-2.7),
    };
    found.push(closure_finding(&closure, Some(ClosureLimit::ThirdOrder)));
    found
}

#[test]
fn law_every_printed_line_of_ground_and_closure_works_out() {
    let mut lines = 0;
    for finding in findings() {
        for units in [UnitSet::Metric, UnitSet::Gb, UnitSet::Us] {
            for line in finding.working.print(units) {
                if line.numbers.is_empty() {
                    continue;
                }
                lines += 1;
                let said = check_line(&line.numbers, &line.result);
                assert!(
                    said.as_ref().is_ok_and(|a| a.looseness < 1e-3),
                    "{}: {line:?} {said:?}",
                    finding.code
                );
            }
        }
    }
    assert!(lines > 100, "{lines} lines were worked out");
}
