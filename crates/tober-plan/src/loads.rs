//! What rests on the frame when the ride is open, and what the legs then carry.

use crate::aboard::{Around, axis, present, provenance, riders};
use crate::model::LegPlan;
use crate::turning::{out_of_balance, swung, swung_seat};
use crate::wheel::wheel;
use tober_book::{Ballast, Body, Ride, Seat, Visit};
use tober_calc::stability::{TurningMass, WindAction, greatest_out_of_balance};
use tober_calc::supports::{Between, Burden, Place, Spot, Weight};
use tober_calc::working::{Provenance, Term, Working, sum};
use tober_quantity::{Acceleration, Force, Length, Mass, Moment, Quantity, Ratio, Shown, Toleranced, maths};

/// What the weight of everything that turns is called.
pub(crate) const WHAT_TURNS: &str = "what turns";

/// What rests on the frame when it is open, for every angle of the turntable and any riders in it.
pub(crate) struct OpenLoad {
    /// Weights with where they act.
    pub weights: Vec<Weight>,
    /// The couple about the x axis, either way.
    pub moment_x: Between<Moment>,
    /// The couple about the y axis, either way.
    pub moment_y: Between<Moment>,
    /// How the couples were obtained.
    pub couples: Working,
    /// What is not known of it. Where this is not empty, there is no load at all.
    pub unknown: Vec<String>,
    /// What is left out of it since it is not known. Where this is not empty, the load may be greater.
    pub doubts: Vec<String>,
}

fn weight(mass: Toleranced<Mass>) -> Between<Force> {
    Between { low: Force::weight(mass.low()), high: Force::weight(mass.high()) }
}

impl Default for OpenLoad {
    fn default() -> Self {
        Self {
            weights: Vec::new(),
            moment_x: Between::exact(Moment::ZERO),
            moment_y: Between::exact(Moment::ZERO),
            couples: Working::new(),
            unknown: Vec::new(),
            doubts: Vec::new(),
        }
    }
}

/// Collects couples that may act either way, with the lines that show them.
#[derive(Default)]
pub(crate) struct EitherWay {
    working: Working,
    about_x: Vec<Term>,
    about_y: Vec<Term>,
    places: usize,
}

impl EitherWay {
    /// A weight whose place is only known to within so much along and across.
    pub(crate) fn off_place(
        &mut self,
        name: &str,
        most: Force,
        from: Provenance,
        along: Length,
        across: Length,
    ) {
        if along <= Length::ZERO && across <= Length::ZERO {
            return;
        }
        self.places += 1;
        let n = self.places;
        let w = &mut self.working;
        let q = w.given(&format!("Q{n}"), &format!("greatest weight of {name}"), most, from.clone());
        let a = w.given(
            &format!("a{n}"),
            &format!("how far {name} may be off its place along"),
            along,
            from.clone(),
        );
        let b =
            w.given(&format!("b{n}"), &format!("how far {name} may be off its place across"), across, from);
        self.about_x.push(q.clone() * b);
        self.about_y.push(q * a);
    }
    /// A couple that may act about any axis.
    fn any_direction(&mut self, couple: &Term) {
        self.about_x.push(couple.clone());
        self.about_y.push(couple.clone());
    }
    /// A couple of the ride's turning: about any axis on a turntable, and about the axis of a wheel on a wheel.
    fn of_turning(&mut self, ride: &Ride, couple: &Term) {
        match wheel(ride) {
            Some(_) => self.about_x.push(couple.clone()),
            None => self.any_direction(couple),
        }
    }
    /// The sums, as lines, and as what the couples lie between.
    pub(crate) fn ends(mut self) -> (Working, Between<Moment>, Between<Moment>) {
        let mut one = |symbol: &str, meaning: &str, terms: Vec<Term>| {
            if terms.is_empty() {
                return Between::exact(Moment::ZERO);
            }
            let most = self.working.line(symbol, meaning, sum(terms), Shown::Moment);
            Between { low: Moment::nm(-most.value()), high: Moment::nm(most.value()) }
        };
        let x = one("Mx", "greatest couple about the x axis, either way", self.about_x);
        let y = one("My", "greatest couple about the y axis, either way", self.about_y);
        (self.working, x, y)
    }
}

/// What rests on the frame when it is open.
///
/// A body that turns is put on the axis, and what its place adds to the moments is taken to act in any
/// direction; so is the worst that riders in some of the seats can add. That holds for every angle, and is
/// wider than need be by what cannot happen at once.
pub(crate) fn open_load(around: &Around<'_>) -> OpenLoad {
    let Around { ride, visit, .. } = *around;
    let mut load = OpenLoad::default();
    let mut either = EitherWay::default();
    if ride.bodies.is_empty() {
        whole(ride, &mut load, &mut either);
    } else {
        let mut turning = Turning::default();
        for body in present(ride, visit) {
            add_body(ride, body, &mut load, &mut either, &mut turning);
        }
        add_seats(ride, &mut load, &mut turning);
        for ballast in crate::hold::ballast(ride, visit) {
            add_ballast(ride, ballast, &mut load, &mut either, &mut turning);
        }
        turning.put_on_axis(ride, &mut load, &mut either);
    }
    add_riders(ride, &mut load, &mut either);
    add_turning_and_wind(around, &mut load, &mut either);
    add_guys(around, &mut load, &mut either);
    (load.couples, load.moment_x, load.moment_y) = either.ends();
    load
}

/// The ride as one mass.
pub(crate) fn whole(ride: &Ride, load: &mut OpenLoad, either: &mut EitherWay) {
    let Some(mass) = ride.about.mass else {
        load.unknown.push("The mass of the ride.".to_owned());
        return;
    };
    let place = ride.about.cg.map_or(Place::Unknown, |cg| {
        let from = provenance(ride.about.mass_from);
        either.off_place("the ride", Force::weight(mass.high()), from, cg.along.off_by, cg.across.off_by);
        Place::At(Spot { x: cg.along.value, y: cg.across.value })
    });
    load.weights.push(Weight {
        name: ride.about.name.clone(),
        burden: Burden { down: weight(mass), place },
        from: provenance(ride.about.mass_from),
    });
}

/// How far below the datum plane the lowest foot stands.
fn feet_below(around: &Around<'_>) -> Length {
    let below = |leg: &LegPlan| {
        around.ride.support(&leg.name).map_or(Length::ZERO, |support| support.held.shortest()) + leg.lift
    };
    around.legs.iter().map(below).reduce(Length::max).unwrap_or(Length::ZERO)
}

/// The couples of riders that turn out of balance and of the wind in which it may run: a force at a height
/// above the feet, from any side.
fn add_turning_and_wind(around: &Around<'_>, load: &mut OpenLoad, either: &mut EitherWay) {
    let Around { ride, pitch, visit, legs } = *around;
    let feet = feet_below(around);
    if let Err(missing) = add_turning(around, feet, &mut load.weights, either) {
        load.doubts.push(format!("The force of what turns out of balance is left out. {missing}"));
    }
    let wind = crate::stand::wind_in_service(ride, pitch, visit, legs);
    if let Err(missing) = add_wind(ride, visit, feet, wind, either) {
        load.doubts.push(format!("The wind is left out. {missing}"));
    }
}

/// F h with F = m r ω²: the riders in the worst seats at their radius at speed, h the highest of them above the feet; and
/// the bodies that turn, whatever of them does not balance, each at its own height.
///
/// On a wheel the force acts through the hub, and is also felt as a weight, up or down.
fn add_turning(
    around: &Around<'_>,
    feet: Length,
    weights: &mut Vec<Weight>,
    either: &mut EitherWay,
) -> Result<(), String> {
    let ride = around.ride;
    let mut turning = Vec::new();
    let mut highest = Length::ZERO;
    for seat in &ride.seats {
        let mass =
            riders(ride, seat).ok_or_else(|| format!("How heavy riders in \"{}\" may be.", seat.name))?;
        let radius = seat
            .radius_at_speed
            .ok_or_else(|| format!("How far \"{}\" swings out: `radius-at-speed`.", seat.name))?;
        let height = seat.height.ok_or_else(|| format!("How high \"{}\" is: `height`.", seat.name))?;
        highest = highest.max(height + feet);
        turning.push(TurningMass {
            name: seat.name.clone(),
            mass,
            least: Ratio::ZERO,
            radius: radius.max(seat.radius),
            angle: seat.angle,
        });
    }
    let rotation = ride.motion.as_ref().and_then(|motion| motion.rotations.first());
    let speed = rotation.ok_or("How fast it turns.")?.speed_greatest;
    let worst = greatest_out_of_balance(&turning).map_err(|error| error.to_string())?;
    let bodies = out_of_balance(around, feet)?;
    let coarse = |length: Length| length.amount().shown(Shown::Coarse);
    let wheel = wheel(ride);
    if let Some(wheel) = wheel {
        if let Some(missing) = wheel.too_fast(ride) {
            return Err(missing);
        }
        highest = wheel.hub().up.high() + feet;
    }
    let w = &mut either.working;
    let meaning = "riders in the worst seats at speed, as one mass a metre from the axis";
    let mass = w.given("mt", meaning, worst.mass_at_one_metre, Provenance::Computed);
    let arm = w.given("rt", "that metre", coarse(Length::m(1.0)), Provenance::chosen("a metre"));
    let omega = w.given("ω", "greatest speed of turning", speed, Provenance::Maker).squared();
    let meaning = if wheel.is_some() {
        "the hub above the lowest foot"
    } else {
        "highest riders above the lowest foot"
    };
    let height = w.given("ht", meaning, coarse(highest), Provenance::Computed);
    let force = mass * arm.clone() * omega.clone();
    let force = w.line("Ft", "turning force of riders out of balance", force, Shown::Force);
    let couple = w.line("Mt", "its couple about the feet", force.clone() * height, Shown::Moment);
    let meaning = "what turns without riders, out of balance, as one mass a metre out and a metre up";
    let mass = w.given("mb", meaning, bodies.at_its_height, Provenance::Computed);
    let turning = mass * arm.clone() * arm.clone() * omega.clone();
    let of_bodies = w.line("Mb", "couple of their turning about the feet", turning, Shown::Moment);
    if let Some(hub) = wheel.map(crate::wheel::Wheel::hub) {
        let meaning = "what turns without riders, out of balance, as one mass a metre out";
        let mass = w.given("nb", meaning, bodies.at_one_metre, Provenance::Computed);
        let pull = w.line("Fb", "turning force of them", mass * arm.clone() * omega.clone(), Shown::Force);
        // Upward riders never take off more than their own weight, who then are aboard; what is always there may.
        let down = Between { low: Force::n(-pull.value()), high: Force::n(force.value() + pull.value()) };
        let place = Place::At(Spot { x: hub.along.value, y: hub.across.value });
        let name = "turning out of balance, downward".to_owned();
        weights.push(Weight { name, burden: Burden { down, place }, from: Provenance::Computed });
        if bodies.beside > Mass::ZERO {
            let meaning =
                "the same, out of balance along the axis, as one mass a metre out and a metre along";
            let mass = w.given("ob", meaning, bodies.beside, Provenance::Computed);
            let along = mass * arm.clone() * arm * omega;
            let along = w.line("Ma", "couple of that, along the frame", along, Shown::Moment);
            either.about_y.push(along);
        }
    }
    either.of_turning(ride, &couple);
    either.of_turning(ride, &of_bodies);
    Ok(())
}

/// The sum of q A h over all bodies, each with both its faces together as a diagonal.
fn add_wind(
    ride: &Ride,
    visit: &Visit,
    feet: Length,
    wind: Result<WindAction, String>,
    either: &mut EitherWay,
) -> Result<(), String> {
    let pressure = wind?.pressure;
    let on_wheel = wheel(ride).and_then(|wheel| wheel.wind_up(ride, visit));
    let mut faces = Vec::new();
    for body in present(ride, visit) {
        let open = body.placement("open").and_then(|placement| placement.wind.as_ref());
        let wind = open.ok_or_else(|| format!("What the wind finds of \"{}\": `wind`.", body.name))?;
        let up = on_wheel.filter(|_| body.on_turntable == Some(true)).unwrap_or(wind.up);
        faces.push((&body.name, wind, up));
    }
    let w = &mut either.working;
    let q = w.given("q", "pressure of the greatest gust in which it may run", pressure, Provenance::Computed);
    let mut couples = Vec::new();
    for (i, (name, wind, up)) in faces.into_iter().enumerate() {
        let n = i + 1;
        let along =
            w.given(&format!("A{n}"), &format!("wind area of {name} along"), wind.along, Provenance::Maker);
        let across =
            w.given(&format!("B{n}"), &format!("wind area of {name} across"), wind.across, Provenance::Maker);
        let above = (up + feet).max(Length::ZERO).amount().shown(Shown::Coarse);
        let height = w.given(
            &format!("h{n}"),
            &format!("height of the wind on {name} above the lowest foot"),
            above,
            Provenance::Maker,
        );
        couples.push(q.clone() * (along.squared() + across.squared()).sqrt() * height);
    }
    if !couples.is_empty() {
        let couple = w.line("Mw", "couple of the wind from the worst side", sum(couples), Shown::Moment);
        either.any_direction(&couple);
    }
    Ok(())
}

/// What turns, gathered until it is put on the axis.
#[derive(Default)]
struct Turning {
    low: Force,
    high: Force,
    /// Middle of the moments about the axis.
    x_nm: f64,
    y_nm: f64,
    /// By how much they may be off, in any direction.
    off_nm: f64,
    guessed: bool,
    parts: usize,
}

impl Turning {
    fn add(&mut self, mass: Toleranced<Mass>, dx: Toleranced<Length>, dy: Toleranced<Length>, guessed: bool) {
        let (low, middle, high) =
            (Force::weight(mass.low()), Force::weight(mass.value), Force::weight(mass.high()));
        self.low = self.low + low;
        self.high = self.high + high;
        self.x_nm += middle.si() * dx.value.si();
        self.y_nm += middle.si() * dy.value.si();
        let arm = maths::hypot(dx.value.si(), dy.value.si());
        let off_place = maths::hypot(dx.off_by.si(), dy.off_by.si());
        self.off_nm += (high.si() - middle.si()) * arm + high.si() * off_place;
        self.guessed |= guessed;
        self.parts += 1;
    }

    fn put_on_axis(self, ride: &Ride, load: &mut OpenLoad, either: &mut EitherWay) {
        if self.parts == 0 {
            return;
        }
        let Some((x, y)) = axis(ride) else {
            load.unknown.push(
                "The axis about which the ride turns, upright or a wheel's: one `[[motion.rotation]]` with `lean`.".to_owned(),
            );
            return;
        };
        let most = Moment::nm(maths::hypot(self.x_nm, self.y_nm) + self.off_nm);
        let meaning =
            "what turns without riders: out of balance, with masses and places as far off as they may be";
        let couple = either.working.given("Mo", meaning, most, Provenance::Computed);
        either.of_turning(ride, &couple);
        if wheel(ride).is_some() {
            return;
        }
        load.weights.push(Weight {
            name: WHAT_TURNS.to_owned(),
            burden: Burden {
                down: Between { low: self.low, high: self.high },
                place: Place::At(Spot { x, y }),
            },
            from: if self.guessed { Provenance::Guessed } else { Provenance::Maker },
        });
    }
}

fn add_body(ride: &Ride, body: &Body, load: &mut OpenLoad, either: &mut EitherWay, turning: &mut Turning) {
    let Some(open) = body.placement("open") else {
        load.unknown.push(format!("Where \"{}\" is when the ride is open: a placement \"open\".", body.name));
        return;
    };
    let Some(turns) = body.on_turntable else {
        load.unknown.push(format!("Whether \"{}\" turns: `on-turntable`.", body.name));
        return;
    };
    let guessed = provenance(body.mass_from) == Provenance::Guessed;
    if turns {
        let Some((x, y)) = axis(ride) else {
            turning.parts += 1;
            return;
        };
        if let Some(wheel) = wheel(ride) {
            // Its weight stays where it is along the wheel's axis, and goes round in the plane of the wheel.
            let place = wheel.place(ride, body, &open.cg);
            let metres = |(at, off): (f64, f64)| Toleranced { value: Length::m(at), off_by: Length::m(off) };
            turning.add(body.mass, metres(place.left_m), metres(place.up_m), guessed);
            on_frame(body, open.cg.along, Toleranced::exact(y), load, either);
            return;
        }
        let out = swung(ride, &body.name);
        let from_axis = |at: Toleranced<Length>, axis: Length| Toleranced {
            value: (at.value - axis) * out,
            off_by: at.off_by * out,
        };
        turning.add(body.mass, from_axis(open.cg.along, x), from_axis(open.cg.across, y), guessed);
        return;
    }
    on_frame(body, open.cg.along, open.cg.across, load, either);
}

/// A body whose weight acts at a place of the frame.
pub(crate) fn on_frame(
    body: &Body,
    along: Toleranced<Length>,
    across: Toleranced<Length>,
    load: &mut OpenLoad,
    either: &mut EitherWay,
) {
    let from = provenance(body.mass_from);
    either.off_place(&body.name, Force::weight(body.mass.high()), from.clone(), along.off_by, across.off_by);
    load.weights.push(Weight {
        name: body.name.clone(),
        burden: Burden {
            down: weight(body.mass),
            place: Place::At(Spot { x: along.value, y: across.value }),
        },
        from,
    });
}

fn add_ballast(
    ride: &Ride,
    ballast: &Ballast,
    load: &mut OpenLoad,
    either: &mut EitherWay,
    turning: &mut Turning,
) {
    let from = provenance(ballast.mass_from);
    let (along, across) = (ballast.at.along, ballast.at.across);
    match (ballast.on_turntable, axis(ride)) {
        (None, _) => load.unknown.push(format!("Whether \"{}\" turns: `on-turntable`.", ballast.name)),
        (Some(true), None) => turning.parts += 1,
        (Some(true), Some((x, y))) => {
            let from_axis =
                |at: Toleranced<Length>, axis: Length| Toleranced { value: at.value - axis, ..at };
            let guessed = from == Provenance::Guessed;
            if let Some(hub) = wheel(ride).map(crate::wheel::Wheel::hub) {
                let up = from_axis(ballast.at.up, hub.up.value);
                turning.add(ballast.mass, from_axis(across, y), up, guessed);
                return ballast_on_frame(ballast, Toleranced::exact(y), load, either);
            }
            turning.add(ballast.mass, from_axis(along, x), from_axis(across, y), guessed);
        }
        (Some(false), _) => ballast_on_frame(ballast, across, load, either),
    }
}

fn ballast_on_frame(
    ballast: &Ballast,
    across: Toleranced<Length>,
    load: &mut OpenLoad,
    either: &mut EitherWay,
) {
    let (along, from) = (ballast.at.along, provenance(ballast.mass_from));
    let most = Force::weight(ballast.mass.high());
    either.off_place(&ballast.name, most, from.clone(), along.off_by, across.off_by);
    let place = Place::At(Spot { x: along.value, y: across.value });
    load.weights.push(Weight {
        name: ballast.name.clone(),
        burden: Burden { down: weight(ballast.mass), place },
        from,
    });
}

/// Each guy from slack to what it may carry: down where it is made fast, and sideways at its height above the feet.
fn add_guys(around: &Around<'_>, load: &mut OpenLoad, either: &mut EitherWay) {
    let feet = feet_below(around);
    for (i, guy) in crate::hold::guys(around.ride, around.pitch, -feet).iter().enumerate() {
        let Some(strength) = guy.strength.zip(guy.anchor_strength).map(|(rope, anchor)| rope.min(anchor))
        else {
            load.unknown.push(format!("What \"{}\" and its anchor may carry.", guy.name));
            continue;
        };
        let (x, y) = (guy.anchor.0 - guy.from.0, guy.anchor.1 - guy.from.1);
        let (out, down) = (maths::hypot(x.si(), y.si()), (guy.from.2 - guy.anchor.2).si());
        let length = maths::hypot(out, down);
        let n = i + 1;
        let w = &mut either.working;
        let meaning = format!("the most that {} may carry, along the ground", guy.name);
        let pull = w.given(&format!("Z{n}"), &meaning, strength * (out / length), Provenance::Maker);
        let meaning = format!("height of {} above the lowest foot", guy.name);
        let above = (guy.from.2 + feet).amount().shown(Shown::Coarse);
        let height = w.given(&format!("z{n}"), &meaning, above, Provenance::Maker);
        either.any_direction(&(pull * height));
        load.weights.push(Weight {
            name: guy.name.clone(),
            burden: Burden {
                down: Between { low: Force::ZERO, high: strength * (down / length) },
                place: Place::At(Spot { x: guy.from.0, y: guy.from.1 }),
            },
            from: Provenance::Maker,
        });
    }
}

fn at_angle(seat: &Seat) -> (f64, f64) {
    let (radius, angle) = (seat.radius.as_m() * swung_seat(seat), seat.angle.as_rad());
    (radius * maths::cos(angle), radius * maths::sin(angle))
}

fn add_seats(ride: &Ride, load: &mut OpenLoad, turning: &mut Turning) {
    // A seat that is a body of the book is counted there.
    for seat in ride.seats.iter().filter(|seat| seat.body.is_none()) {
        let Some(mass) = seat.mass else {
            load.unknown.push(format!("The mass of \"{}\", empty.", seat.name));
            continue;
        };
        let (x, y) = at_angle(seat);
        let guessed = provenance(seat.mass_from) == Provenance::Guessed;
        turning.add(mass, Toleranced::exact(Length::m(x)), Toleranced::exact(Length::m(y)), guessed);
        if let Some(hub) = wheel(ride).map(crate::wheel::Wheel::hub) {
            load.weights.push(Weight {
                name: seat.name.clone(),
                burden: Burden {
                    down: weight(mass),
                    place: Place::At(Spot { x: hub.along.value, y: hub.across.value }),
                },
                from: provenance(seat.mass_from),
            });
        }
    }
}

fn add_riders(ride: &Ride, load: &mut OpenLoad, either: &mut EitherWay) {
    if ride.seats.is_empty() {
        load.doubts.push("Riders are left out: the seats, and how many they hold.".to_owned());
        return;
    }
    let mut all = Force::ZERO;
    let mut turning = Vec::new();
    for seat in &ride.seats {
        let Some(mass) = riders(ride, seat) else {
            load.unknown
                .push(format!("How heavy riders in \"{}\" may be: `rider-mass-greatest`.", seat.name));
            continue;
        };
        all = all + Force::weight(mass);
        turning.push(TurningMass {
            name: seat.name.clone(),
            mass,
            least: Ratio::ZERO,
            radius: seat.radius * swung_seat(seat),
            angle: seat.angle,
        });
    }
    let Some((x, y)) = axis(ride) else {
        load.unknown.push("The axis about which the seats turn, upright or a wheel's.".to_owned());
        return;
    };
    match greatest_out_of_balance(&turning) {
        Ok(worst) => {
            let w = &mut either.working;
            let meaning = "riders in the worst seats, as one mass a metre from the axis";
            let mass = w.given("mr", meaning, worst.mass_at_one_metre, Provenance::Computed);
            let arm = w.given(
                "r",
                "that metre",
                Length::m(1.0).amount().shown(Shown::Coarse),
                Provenance::chosen("a metre"),
            );
            let source = "standard gravity, 3rd CGPM (1901)";
            let g = w.given("g", "standard gravity", Acceleration::g(1.0), Provenance::tabulated(source));
            let couple = w.line("Mr", "couple of riders on one side", mass * arm * g, Shown::Moment);
            either.of_turning(ride, &couple);
        }
        Err(error) => load.unknown.push(error.to_string()),
    }
    load.weights.push(Weight {
        name: "riders, none to all".to_owned(),
        burden: Burden { down: Between { low: Force::ZERO, high: all }, place: Place::At(Spot { x, y }) },
        from: Provenance::Maker,
    });
}
