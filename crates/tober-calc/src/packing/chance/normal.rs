//! The normal distribution of one and of two variables.

use tober_quantity::maths;

/// Nodes and weights of Gauss and Legendre's rule of eight points, for the half above the middle
/// (Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, table 25.4).
const EIGHT: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
];

/// The chance that a standard normal variable is at most `x`: `erfc(−x/√2)/2`, to about 1e-15.
pub fn normal(x: f64) -> f64 {
    0.5 * maths::erfc(-x * core::f64::consts::FRAC_1_SQRT_2)
}

/// The `x` below which a standard normal variable lies with the chance `p`, for `p` from 1e-12 to 1 - 1e-12.
///
/// Abramowitz and Stegun 26.2.23 (1964) to 4.5e-4, then a step of Newton with the second-order term; to 1e-8.
pub(super) fn quantile(p: f64) -> f64 {
    let p = p.clamp(1e-12, 1.0 - 1e-12);
    let tail = p.min(1.0 - p);
    let t = (-2.0 * maths::ln(tail)).sqrt();
    let over = 1.0 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308));
    let far = t - (2.515_517 + t * (0.802_853 + t * 0.010_328)) / over;
    let density = maths::exp(-0.5 * far * far) / (2.0 * core::f64::consts::PI).sqrt();
    let step = (normal(-far) - tail) / density;
    let x = -far - step / (1.0 - 0.5 * far * step);
    if p <= 0.5 { x } else { -x }
}

/// The chance that `directions` standard normal variables together lie within `radius` of their middle.
///
/// With `a = directions / 2` and `x = radius^2 / 2` the regularised gamma function `P(a, x)`, from `P(1/2, x) = erf sqrt x` or
/// `P(1, x) = 1 - exp(-x)` upwards by `P(a + 1, x) = P(a, x) - x^a exp(-x) / gamma(a + 1)`.
pub(super) fn within_radius(directions: usize, radius: f64) -> f64 {
    if radius >= 40.0 {
        return 1.0;
    }
    let x = 0.5 * radius * radius;
    let decay = maths::exp(-x);
    // The term that is taken away next, x^a exp(-x) / gamma(a + 1).
    let (mut a, mut inside, mut term) = if directions % 2 == 1 {
        (0.5, maths::erf(x.sqrt()), x.sqrt() * decay * core::f64::consts::FRAC_2_SQRT_PI)
    } else {
        (1.0, 1.0 - decay, x * decay)
    };
    for _ in 1..directions.div_ceil(2) {
        inside -= term;
        a += 1.0;
        term *= x / a;
    }
    inside.max(0.0)
}

/// The chance that two standard normal variables with this correlation are at most `h` and at most `k`.
///
/// `F(h) F(k) + 1/(2 pi) * integral over angles from 0 to asin(correlation) of
/// exp(-(h^2 + k^2 - 2 h k sin) / (2 cos^2))` (Plackett's reduction), by Gauss and Legendre's rule on panels that
/// shrink towards a right angle, where the integrand is steep. Better than 1e-10 over all correlations; checked
/// against NBS Applied Mathematics Series 50 (1959).
pub fn normal_of_two(h: f64, k: f64, correlation: f64) -> f64 {
    let apart = normal(h) * normal(k);
    if correlation == 0.0 {
        return apart;
    }
    if correlation.abs() > 1.0 - 1e-14 {
        let together = if correlation > 0.0 { normal(h.min(k)) } else { normal(h) + normal(k) - 1.0 };
        return together.max(0.0);
    }
    let (k, size) = if correlation < 0.0 { (-k, -correlation) } else { (k, correlation) };
    let right = core::f64::consts::FRAC_PI_2;
    let (mut low, end) = (maths::atan2((1.0 - size * size).sqrt(), size), right);
    let mut sum = 0.0;
    while low < end {
        let high = (low * core::f64::consts::SQRT_2).min(end);
        let (middle, half) = (0.5 * (low + high), 0.5 * (high - low));
        for (node, weight) in EIGHT {
            for t in [middle - half * node, middle + half * node] {
                let (sin, cos) = (maths::sin(t), maths::cos(t));
                let exponent = (h * h + k * k - 2.0 * h * k * cos) / (2.0 * sin * sin);
                sum += half * weight * maths::exp(-exponent);
            }
        }
        low = high;
    }
    let more = sum / (2.0 * core::f64::consts::PI);
    if correlation < 0.0 { (apart - more).max(0.0) } else { (apart + more).min(1.0) }
}
