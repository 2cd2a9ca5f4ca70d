//! Presumptive tables and water.

use super::*;

/// International Building Code 2012 Table 1806.2 (reference GS-01), and none for mud, peat and fill (GS-03).
#[test]
fn truth_building_code_table() {
    let table = presumptive_table("IBC 2012 1806.2").expect("listed");
    let kpa: Vec<Option<f64>> = table.classes.iter().map(|c| c.pressure().map(Pressure::as_kpa)).collect();
    for (found, expected) in kpa.iter().zip([574.6, 191.5, 143.6, 95.8, 71.8]) {
        near(found.expect("printed"), expected, 0.001);
    }
    assert_eq!(kpa[5], None);
}

/// National Building Code of Canada, small buildings (reference GS-06), with its hand tests (GS-07).
#[test]
fn truth_small_buildings_table_and_hand_tests() {
    let table = presumptive_table("NBC 9.4.4.1").expect("listed");
    let kpa = |name: &str| table.class(name).expect("listed").pressure().expect("printed").as_kpa();
    near(kpa(class_by_thumb(Thumb::Hard)), 150.0, 1e-12);
    near(kpa(class_by_thumb(Thumb::Moderate)), 75.0, 1e-12);
    near(kpa(class_by_thumb(Thumb::Easy)), 40.0, 1e-12);
    near(kpa(class_by_picket(Length::mm(200.0)).expect("a depth")), 150.0, 1e-12);
    near(kpa(class_by_picket(Length::mm(201.0)).expect("a depth")), 50.0, 1e-12);
    near(kpa("dense silt"), 100.0, 1e-12);
    assert_eq!(class_by_picket(Length::m(f64::NAN)), None);
}

/// Chicago building code 13-132-060(a) (reference GS-05).
#[test]
fn truth_city_code_table() {
    let table = presumptive_table("Chicago 13-132-060").expect("listed");
    for (name, kpa) in
        [("compact clean sand", 239.4), ("very soft clay", 23.9), ("hardpan", 574.6), ("gravel", 287.3)]
    {
        near(table.class(name).expect("listed").pressure().expect("printed").as_kpa(), kpa, 0.002);
    }
}

/// A table in a public chat answer lists clay at 1,000, gravel at 4,000, sand at 3,000 psf (reference DIS-24), and
/// trade tables give firm clay 296 kPa (DIS-02). Neither is reproduced: no clay or silt outside
/// Chicago's harder classes is trusted with more than 150 kPa by any table that was read.
#[test]
fn truth_faulty_tables_are_not_reproduced() {
    let table = presumptive_table("IBC 2012 1806.2").expect("listed");
    for (class, wrong) in table.classes[2..5].iter().zip([4000.0, 3000.0, 1000.0]) {
        assert!((class.pressure().expect("printed").as_psf() - wrong).abs() > 400.0);
    }
    for table in TABLES {
        assert!(!table.document.to_lowercase().contains("outrigger"));
        for class in table.classes.iter().filter(|c| c.name == "firm clay") {
            assert!(class.pressure().expect("printed").as_kpa() <= 75.0);
        }
    }
}

/// IS 1904:1961 Table 2.2 note 6 (reference GS-32): half at the base, all from B below, a line between.
#[test]
fn truth_water_halves_sand() {
    let width = Length::m(0.8);
    for (depth_m, factor) in [(0.0, 0.5), (0.2, 0.625), (0.4, 0.75), (0.8, 1.0), (3.0, 1.0)] {
        near(water_factor(Some(Length::m(depth_m)), width).expect("sound"), factor, 1e-12);
    }
    near(water_factor(None, width).expect("sound"), 0.5, 1e-12);
}

#[test]
fn law_saying_less_of_the_ground_never_helps() {
    let foot = on_foot(size(0.5, 0.5));
    for kn in [5.0, 15.0, 20.0, 30.0, 34.0, 40.0] {
        let standing = |ground: &Ground| {
            let found = ground_pressure(leg(), both(kn), &foot, ground).expect("sound");
            assert_eq!(found.overriding, Override::Never);
            found.standing
        };
        let full = standing(&gravel());
        for less in [
            Ground { surface: None, ..gravel() },
            Ground { wet: None, ..gravel() },
            Ground { water_depth: None, ..gravel() },
            Ground { allowed: None, ..gravel() },
        ] {
            assert!(standing(&less) >= full, "{kn} kN: {less:?}");
        }
        for (worse, less) in [
            (Ground { wet: Some(Wetness::StandingWater), ..gravel() }, Ground { wet: None, ..gravel() }),
            (Ground { surface: Some(Surface::Turf), ..gravel() }, Ground { surface: None, ..gravel() }),
            (
                Ground { water_depth: Some(Length::ZERO), ..gravel() },
                Ground { water_depth: None, ..gravel() },
            ),
        ] {
            assert!(standing(&less) >= standing(&worse), "{kn} kN: {less:?}");
        }
    }
}

/// Gravel at 3,000 psf under 0.25 m²: 30 kN is 120 kPa of 143.6 kPa, 84 %.
#[test]
fn hand_gravel_is_close_and_wet_gravel_not_known() {
    let foot = on_foot(size(0.5, 0.5));
    let found = ground_pressure(leg(), both(30.0), &foot, &gravel()).expect("sound");
    assert_eq!((found.standing, found.share()), (Standing::Close, Some(84)));
    let halved = Ground { water_depth: Some(Length::ZERO), ..gravel() };
    let found = ground_pressure(leg(), both(30.0), &foot, &halved).expect("sound");
    assert_eq!(found.standing, Standing::PastLimit);
    near(limit(&found).as_psf(), 1500.0, 1e-9);
    let turf = Ground { surface: Some(Surface::Turf), ..gravel() };
    let found = ground_pressure(leg(), both(10.0), &foot, &turf).expect("sound");
    assert_eq!(found.standing, Standing::NotKnown);
    assert!(found.advice.iter().any(|a| a.contains("sink test")));
}

/// The superseded British table is for bases a metre wide and more: under a foot it settles nothing.
#[test]
fn law_a_table_for_wide_bases_is_not_known_under_a_foot() {
    let table = presumptive_table("BS 8004:1986").expect("listed");
    let class = table.class("stiff clay").expect("listed");
    let ground = Ground { allowed: Some(Allowed::Class { table, class }), ..gravel() };
    let found = ground_pressure(leg(), both(5.0), &on_foot(size(0.5, 0.5)), &ground).expect("sound");
    assert_eq!(found.standing, Standing::NotKnown);
    let wide = ground_pressure(leg(), both(5.0), &on_foot(size(1.0, 1.0)), &ground).expect("sound");
    assert_eq!(wide.standing, Standing::Inside);
    assert!(wide.basis.iter().any(|b| b.to_string().contains("from memory")));
}

/// DIS-01: soft clay is 40 kPa by the lowest table that fits it, firm clay 71.8 (the lowest of 75, 75, 95.8 and 71.8).
#[test]
fn truth_the_cautious_class_of_a_description() {
    for (words, kpa) in [("soft clay", 40.0), ("firm clay", 71.8), ("loose sand", 50.0)] {
        let (_, class) = cautious_class(words).expect("listed");
        near(class.pressure().expect("printed").as_kpa(), kpa, 0.001);
    }
    assert!(cautious_class("good ground").is_err());
}

/// US Navy DM 7.2 (GS-10: soft clay 0.5 tsf, 48 kPa) and its rock (GS-09); the low end of each range.
#[test]
fn truth_navy_tables() {
    let kpa = |table: &str, class: &str| {
        let table = presumptive_table(table).expect("listed");
        table.class(class).expect("listed").pressure().expect("printed").as_kpa()
    };
    near(kpa("DM 7.2 soil", "soft clay"), 48.0, 0.003);
    near(kpa("DM 7.2 soil", "loose gravel"), 191.5, 0.001);
    near(kpa("DM 7.2 rock", "weathered or broken bedrock"), 800.0, 1e-9);
    near(kpa("IRC R401.4.1", "clay and silt (CL, ML, MH, CH)"), 71.8, 0.001);
}
