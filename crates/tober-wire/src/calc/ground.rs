//! `tober calc ground`: a load through its packing into the ground, with units as in the files.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::json;
use tober_calc::finding::Subject;
use tober_calc::ground::{
    Allowed, Crush, Cycling, Grain, Ground, GroundError, Layer, LoadDuration, PlanSize, Service, SinkTest,
    Stack, Surface, Timber, TimberUse, Wetness, allowed_by_cone, allowed_by_vane, area_needed,
    bending_across_grain, bending_of_stack, cautious_class, crushing_of_stack, cyclic_sink, elastic_sink,
    ground_findings, metal, presumptive_table, spread, stack_stiffness, timber,
};
use tober_quantity::{Force, Length, Mass, Quantity, Ratio};

/// A load, as a force or as the mass whose weight it is.
pub(super) fn load(field: &Field<'_>) -> Read<Force> {
    let text = field.text()?;
    Force::parse(text).or_else(|_| Mass::parse(text).map(Force::weight)).map_err(|_| {
        field.error(format!("`{text}` stands here; a load is wanted, as \"30 kN\" or \"3.1 t\"."))
    })
}

pub(super) fn size(field: &Field<'_>) -> Read<PlanSize> {
    field.only(&["along", "across"])?;
    Ok(PlanSize { along: field.get("along")?.quantity()?, across: field.get("across")?.quantity()? })
}

pub(super) fn length_or(field: &Field<'_>, key: &str, otherwise: Length) -> Read<Length> {
    field.maybe(key)?.map_or(Ok(otherwise), |f| f.quantity())
}

fn timber_named(field: &Field<'_>) -> Read<&'static Timber> {
    timber(field.text()?).map_err(|error| field.error(error.to_string()))
}

/// One layer; layers stand from the foot down.
fn layer(field: &Field<'_>) -> Read<Layer> {
    let keys =
        ["thickness", "length", "width", "boards", "grain", "off_along", "off_across", "timber", "metal"];
    field.only(&keys)?;
    let of_metal = |f: Field<'_>| metal(f.text()?).map_err(|error| f.error(error.to_string()));
    let plate = field.maybe("metal")?.map(of_metal).transpose()?;
    let boards = field.maybe("boards")?.map_or(Ok(1), |f| f.whole(1, 50))?;
    Ok(Layer {
        thickness: field.get("thickness")?.quantity()?,
        length: field.get("length")?.quantity()?,
        width: field.get("width")?.quantity()?,
        boards: usize::try_from(boards).unwrap_or(1),
        grain: field.get("grain")?.choice(&[("along", Grain::Along), ("across", Grain::Across)])?,
        off_along: length_or(field, "off_along", Length::ZERO)?,
        off_across: length_or(field, "off_across", Length::ZERO)?,
        timber: match plate {
            Some(plate) => Some(plate),
            None => field.maybe("timber")?.map(|f| timber_named(&f)).transpose()?,
        },
    })
}

fn ground(question: &Field<'_>) -> Read<Ground> {
    let Some(field) = question.maybe("ground")? else { return Ok(Ground::default()) };
    let bases = ["table", "report", "description", "vane", "cone"];
    field.only(&[&["surface", "wet", "water_depth", "class"][..], &bases].concat())?;
    let mut told = Vec::new();
    for key in bases {
        told.extend(field.maybe(key)?);
    }
    if let [_, second, ..] = &told[..] {
        return Err(second.error(
            "the ground rests on one of table, report, description, vane or cone, and here are two.",
        ));
    }
    let surfaces = [
        ("below the topsoil", Surface::BelowTopsoil),
        ("topsoil", Surface::Topsoil),
        ("turf", Surface::Turf),
        ("fill", Surface::Fill),
        ("paved", Surface::Paved),
    ];
    let wetness = [("dry", Wetness::Dry), ("wet", Wetness::Wet), ("standing water", Wetness::StandingWater)];
    let refused = |at: &Field<'_>, error: GroundError| at.error(error.to_string());
    let allowed = if let Some(named) = field.maybe("table")? {
        let table = presumptive_table(named.text()?).map_err(|error| refused(&named, error))?;
        let class = field.get("class")?;
        let found = table.class(class.text()?).map_err(|error| refused(&class, error))?;
        Some(Allowed::Class { table, class: found })
    } else if let Some(report) = field.maybe("report")? {
        report.only(&["pressure", "reference"])?;
        Some(Allowed::Report {
            pressure: report.get("pressure")?.quantity()?,
            reference: report.get("reference")?.text()?.to_owned(),
        })
    } else if let Some(words) = field.maybe("description")? {
        let (table, class) = cautious_class(words.text()?).map_err(|error| refused(&words, error))?;
        Some(Allowed::Class { table, class })
    } else if let Some(vane) = field.maybe("vane")? {
        Some(allowed_by_vane(vane.quantity()?).map_err(|error| refused(&vane, error))?)
    } else if let Some(cone) = field.maybe("cone")? {
        Some(allowed_by_cone(cone.quantity()?).map_err(|error| refused(&cone, error))?)
    } else {
        None
    };
    Ok(Ground {
        surface: field.maybe("surface")?.map(|f| f.choice(&surfaces)).transpose()?,
        wet: field.maybe("wet")?.map(|f| f.choice(&wetness)).transpose()?,
        water_depth: field.maybe("water_depth")?.map(|f| f.quantity()).transpose()?,
        allowed,
    })
}

fn sink_test(question: &Field<'_>) -> Read<Option<SinkTest>> {
    let Some(field) = question.maybe("sink_test")? else { return Ok(None) };
    field.only(&["load", "load_off_by", "plate", "waited", "sink", "sink_off_by"])?;
    let tested = load(&field.get("load")?)?;
    Ok(Some(SinkTest {
        load: tested,
        load_off_by: field.maybe("load_off_by")?.map_or(Ok(tested * 0.1), |f| load(&f))?,
        plate: size(&field.get("plate")?)?,
        waited: field.get("waited")?.quantity()?,
        sink: field.get("sink")?.quantity()?,
        sink_off_by: length_or(&field, "sink_off_by", Length::mm(1.0))?,
    }))
}

fn used(question: &Field<'_>) -> Read<TimberUse> {
    let outdoors = TimberUse {
        service: Service::Wet,
        duration: LoadDuration::Medium,
        crush: Crush::FourHundredths,
        load_factor: Ratio::one(1.35),
    };
    let Some(field) = question.maybe("timber_use")? else { return Ok(outdoors) };
    field.only(&["service", "duration", "crush", "load_factor"])?;
    let services = [("dry", Service::Dry), ("wet", Service::Wet)];
    let durations = [
        ("permanent", LoadDuration::Permanent),
        ("long", LoadDuration::Long),
        ("medium", LoadDuration::Medium),
        ("short", LoadDuration::Short),
        ("instantaneous", LoadDuration::Instantaneous),
    ];
    let crushes = [("0.04 in", Crush::FourHundredths), ("0.02 in", Crush::TwoHundredths)];
    Ok(TimberUse {
        service: field.maybe("service")?.map_or(Ok(outdoors.service), |f| f.choice(&services))?,
        duration: field.maybe("duration")?.map_or(Ok(outdoors.duration), |f| f.choice(&durations))?,
        crush: field.maybe("crush")?.map_or(Ok(outdoors.crush), |f| f.choice(&crushes))?,
        load_factor: Ratio::one(field.maybe("load_factor")?.map_or(Ok(1.35), |f| f.number())?),
    })
}

/// Works one question of ground and timber.
pub(super) fn work(question: &Field<'_>) -> Result<Worked, DoorError> {
    question.only(&[
        "name",
        "load",
        "load_low",
        "foot",
        "layers",
        "ground",
        "sink_test",
        "sink_allowed",
        "timber_use",
        "elastic",
        "cycling",
        "across_grain",
    ])?;
    let name = question.maybe("name")?.map_or(Ok("case"), |f| f.text())?;
    let subject = Subject::Case(name.to_owned());
    let most = load(&question.get("load")?)?;
    let least = question.maybe("load_low")?.map_or(Ok(most), |f| load(&f))?;
    let layers = question.maybe("layers")?.map_or(Ok(Vec::new()), |f| f.list())?;
    let stack =
        Stack { foot: size(&question.get("foot")?)?, layers: layers.iter().map(layer).collect::<Read<_>>()? };
    let refused = |error: GroundError| question.error(error.to_string());
    let spread = spread(&stack).map_err(refused)?;
    let ground = ground(question)?;
    let test = sink_test(question)?;
    let allowed = question.maybe("sink_allowed")?.map(|f| f.quantity()).transpose()?;
    let load = (least, most);
    let mut findings =
        ground_findings(&subject, load, &spread, &ground, test.as_ref(), allowed).map_err(refused)?;
    let used = used(question)?;
    findings.extend(crushing_of_stack(&subject, load, &stack, &spread, &used).map_err(refused)?);
    findings.extend(bending_of_stack(&subject, load, &stack, &spread, &used).map_err(refused)?);
    if let Some(field) = question.maybe("across_grain")? {
        field.only(&["span", "width", "thickness", "timber"])?;
        let sizes = ["span", "width", "thickness"].map(|key| field.get(key)?.quantity());
        let [span, width, thickness] = sizes;
        let class = timber_named(&field.get("timber")?)?;
        let found = bending_across_grain(&subject, load, (span?, width?, thickness?), class, &used)
            .map_err(refused)?;
        findings.push(found);
    }
    let elastic = question.maybe("elastic")?.map(|f| {
        f.only(&["modulus", "poisson"])?;
        let poisson = f.maybe("poisson")?.map_or(Ok(0.3), |p| p.number())?;
        elastic_sink(most, spread.base, f.get("modulus")?.quantity()?, poisson)
            .map_err(|e| f.error(e.to_string()))
    });
    let elastic = elastic.transpose()?;
    if let Some(field) = question.maybe("cycling")? {
        field.only(&["first_sink", "tested", "an_hour", "hours", "allowed"])?;
        let first = match field.maybe("first_sink")? {
            Some(told) => told.quantity()?,
            None => {
                elastic.ok_or_else(|| field.error("the first sink, or `elastic` beside it, is wanted."))?
            }
        };
        let of = Cycling {
            first: (first, first),
            tested: field.maybe("tested")?.map_or(Ok(false), |f| f.truth())?,
            an_hour: field.get("an_hour")?.number()?,
            hours: field.get("hours")?.number()?,
            allowed: field.maybe("allowed")?.map(|f| f.quantity()).transpose()?,
        };
        findings.push(cyclic_sink(subject.clone(), &of).map_err(|error| field.error(error.to_string()))?);
    }
    let presumed = match &ground.allowed {
        Some(Allowed::Class { class, .. }) => class.pressure(),
        Some(Allowed::Report { pressure, .. } | Allowed::Tested { pressure, .. }) => Some(*pressure),
        None => None,
    };
    let needed = presumed.map(|pressure| area_needed(most, pressure)).transpose().map_err(refused)?;
    let result = json!({
        "base_along_m": spread.base.along.as_m(),
        "base_across_m": spread.base.across.as_m(),
        "base_area_m2": spread.base.area().as_m2(),
        "pressure_low_kPa": (least / spread.base.area()).as_kpa(),
        "pressure_high_kPa": (most / spread.base.area()).as_kpa(),
        "allowed_in_table_or_report_kPa": presumed.map(tober_quantity::Pressure::as_kpa),
        "area_needed_m2": needed.map(tober_quantity::Area::as_m2),
        "stack_stiffness_MN_per_m": stack_stiffness(&stack, &spread)
            .map(|band| [band.low.as_mn_per_m(), band.high.as_mn_per_m()]),
        "elastic_sink_mm": elastic.map(Length::as_mm),
        "subgrade_kPa_per_mm": test.as_ref().and_then(|test| test.subgrade().ok()).map(tober_quantity::Subgrade::as_kpa_per_mm),
    });
    Ok(Worked { result, findings, working: Vec::new() })
}
