//! The palettes and the one style sheet of every drawing.
//!
//! A drawing takes stroke, fill and letter size from classes only. The sheet holds a day, a night and a
//! print scheme as custom properties; the rules themselves name roles and never a colour.

/// The colours of one scheme, by role, as `#RRGGBB`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    /// What the drawing lies on.
    pub paper: &'static str,
    /// Faces of parts.
    pub canvas: &'static str,
    /// Words and drawing lines.
    pub ink: &'static str,
    /// Second text.
    pub slate: &'static str,
    /// Done, inside.
    pub royal: &'static str,
    /// Past a limit; the pin.
    pub ox: &'static str,
    /// Hatch and rules; never text.
    pub line: &'static str,
    /// Fill of *close*, always with an ink rim; never text.
    pub gilt: &'static str,
}

impl Palette {
    /// For daylight.
    pub const DAY: Self = Self {
        paper: "#FFFDF6",
        canvas: "#F4ECD8",
        ink: "#14202B",
        slate: "#3A4650",
        royal: "#123E8A",
        ox: "#8C1515",
        line: "#5F6B75",
        gilt: "#F3B72F",
    };
    /// For the dark.
    pub const NIGHT: Self = Self {
        paper: "#0C1014",
        canvas: "#192027",
        ink: "#F6E7C6",
        slate: "#CFC2A4",
        royal: "#A3C8FF",
        ox: "#FF9484",
        line: "#8D97A1",
        gilt: "#FFD04D",
    };
    /// For a black and white printer.
    pub const PRINT: Self = Self {
        paper: "#FFFFFF",
        canvas: "#FFFFFF",
        ink: "#000000",
        slate: "#404040",
        royal: "#000000",
        ox: "#000000",
        line: "#595959",
        gilt: "#FFFFFF",
    };

    /// Each role by its name in the style sheet, with its colour.
    pub fn roles(&self) -> [(&'static str, &'static str); 8] {
        [
            ("paper", self.paper),
            ("canvas", self.canvas),
            ("ink", self.ink),
            ("slate", self.slate),
            ("royal", self.royal),
            ("ox", self.ox),
            ("line", self.line),
            ("gilt", self.gilt),
        ]
    }
}

macro_rules! day {
    () => {
        "{--paper:#FFFDF6;--canvas:#F4ECD8;--ink:#14202B;--slate:#3A4650;--royal:#123E8A;--ox:#8C1515;--line:#5F6B75;--gilt:#F3B72F}\n"
    };
}
macro_rules! night {
    () => {
        "{--paper:#0C1014;--canvas:#192027;--ink:#F6E7C6;--slate:#CFC2A4;--royal:#A3C8FF;--ox:#FF9484;--line:#8D97A1;--gilt:#FFD04D}\n"
    };
}
macro_rules! rules {
    () => {
        "\
.tober text{font-family:Roboto,system-ui,sans-serif;font-size:15px;fill:var(--ink);font-variant-numeric:tabular-nums lining-nums}
.tober .slab{font-family:Rockwell,'Roboto Slab','Noto Serif',Georgia,serif;font-weight:700;font-size:20px}
.tober .b{font-weight:700}
.tober .s13{font-size:13px}
.tober .s14{font-size:14px}
.tober .s18{font-size:18px}
.tober .s20{font-size:20px}
.tober .s23{font-size:23px}
.tober .mid{text-anchor:middle}
.tober .end{text-anchor:end}
.tober .sl{fill:var(--slate)}
.tober .tox{fill:var(--ox)}
.tober .halo{paint-order:stroke;stroke:var(--paper);stroke-width:4px;stroke-linejoin:round}
.tober .k1,.tober .k2,.tober .k3,.tober .k4{fill:none;stroke:var(--ink);stroke-width:1px}
.tober .k2{stroke-width:1.8px}
.tober .k3{stroke-width:2.8px}
.tober .k4{stroke-width:4.2px}
.tober .rule{fill:none;stroke:var(--line);stroke-width:1px}
.tober .fp{fill:var(--paper)}
.tober .fc{fill:var(--canvas)}
.tober .fk{fill:var(--ink)}
.tober .fo{fill:var(--ox)}
.tober .none{fill:none}
.tober .pin{fill:none;stroke:var(--ox);stroke-width:9px}
.tober .pinhead{fill:none;stroke:var(--ox);stroke-width:5px}
.tober .clip{fill:none;stroke:var(--ox);stroke-width:2.4px;stroke-linecap:round;stroke-linejoin:round}
.tober .beam{fill:none;stroke:var(--ink);stroke-width:7px}
.tober .beamin{fill:none;stroke:var(--canvas);stroke-width:4px}
.tober .dash{stroke-dasharray:6 4}
.tober .hid{stroke-dasharray:3 3}
.tober .dashdot{stroke-dasharray:12 3 2 3}
.tober .over{stroke-dasharray:16 4 3 4}
.tober .bur{stroke-dasharray:1 6;stroke-linecap:round}
.tober .earth{fill:none;stroke:var(--line);stroke-width:2.4px}
.tober .grain{fill:none;stroke:var(--line);stroke-width:1px}
.tober .mi{color:var(--royal)}
.tober .mk{color:var(--ink)}
.tober .mo{color:var(--ox)}
.tober .ms{color:var(--slate)}
.tober-gilt{fill:var(--gilt);stroke:var(--ink);stroke-width:2.6px;stroke-linejoin:round}
.tober-hatch{fill:none;stroke:none}
"
    };
}

/// The style sheet of every drawing, for a page that carries it once.
///
/// A page that lets the scheme be set by hand puts `data-scheme="day"` or `"night"` on an element
/// around the drawing; without it the device's setting holds. Paper is always black on white.
pub const STYLE: &str = concat!(
    ".tober",
    day!(),
    "@media (prefers-color-scheme:dark){.tober",
    night!(),
    "}\n[data-scheme=day] .tober",
    day!(),
    "[data-scheme=night] .tober",
    night!(),
    "@media print{.tober,[data-scheme] .tober{--paper:#FFFFFF;--canvas:#FFFFFF;--ink:#000000;--slate:#404040;\
     --royal:#000000;--ox:#000000;--line:#595959;--gilt:#FFFFFF}\n}\n",
    rules!(),
    "@media print{.tober-hatch{stroke:var(--ink);stroke-width:2px}}\n",
);

/// The rules with the colours of one scheme written out, for readers that know no custom properties.
pub fn fixed_style(palette: &Palette) -> String {
    let mut rules = rules!().to_owned();
    for (role, colour) in palette.roles() {
        rules = rules.replace(&format!("var(--{role})"), colour);
    }
    rules
}

/// Whether a drawing carries its style sheet or takes it from the page around it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StyleSheet {
    /// In the drawing: for a file that stands alone.
    Embedded,
    /// In the page, which holds [`STYLE`] once.
    OnPage,
}
