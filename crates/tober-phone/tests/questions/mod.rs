//! The reference questions: what is asked of the core on a laptop, of the module in Node, and of the page in a browser.

use serde_json::{Value, json};
use tober_phone::core::Texts;

pub const RIDE: &str = include_str!("../../../../demo/lantern/ride.toml");
pub const CREW: &str = include_str!("../../../../demo/lantern/crew.toml");
pub const KIT: &str = include_str!("../../../../demo/lantern/kit.toml");
pub const MEADOW: [&str; 3] = [
    include_str!("../../../../demo/lantern/quern-meadow/pitch.toml"),
    include_str!("../../../../demo/lantern/quern-meadow/visit.toml"),
    include_str!("../../../../demo/lantern/quern-meadow/tape.csv"),
];
pub const HARD: [&str; 2] = [
    include_str!("../../../../demo/lantern/plover-hard/pitch.toml"),
    include_str!("../../../../demo/lantern/plover-hard/visit.toml"),
];
/// Computed by OR-Tools CP-SAT 9.15 and HiGHS 1.16, which agree.
const PACKING: &str = include_str!("../../../tober-calc/tests/data/c_packing.json");
/// Exact rational arithmetic, confirmed by OSQP 1.1.3, Clarabel 0.11.1, SciPy 1.17.1, PyNiteFEA 3.2.0 and OpenSees 3.7.1.
const RIGID: &str = include_str!("../../../tober-calc/tests/data/a_rigid.json");

/// What a thumb types at each leg of the meadow.
pub const TAPES: [(&str, &str); 6] = [
    ("front left", "697"),
    ("front right", "742"),
    ("middle left", "761"),
    ("middle right", "781"),
    ("rear left", "804"),
    ("rear right", "860"),
];

/// The texts of the meadow.
pub fn meadow() -> Texts {
    let [pitch, visit, rows] = MEADOW.map(str::to_owned);
    let crew = Some(CREW.to_owned());
    Texts { ride: RIDE.to_owned(), kit: KIT.to_owned(), pitch, visit, crew, rows: Some(rows) }
}

/// A question about a visit's texts.
pub fn question(do_what: &str, texts: &Texts) -> Value {
    json!({
        "do": do_what, "ride": texts.ride, "kit": texts.kit, "pitch": texts.pitch, "visit": texts.visit,
        "crew": texts.crew, "rows": texts.rows,
    })
}

/// A phone in the hand: texts, and the entries made so far.
pub struct Phone {
    pub texts: Texts,
    pub entries: Vec<String>,
    pub device: String,
    /// The clock, in ms; a minute goes by before each entry.
    pub ms: i64,
    /// The plan last shown.
    pub plan: Value,
}

impl Phone {
    pub fn of(texts: Texts) -> Self {
        // 2031-06-20, 05:30 UTC.
        Self {
            texts,
            entries: Vec::new(),
            device: "aaaaaa-1".to_owned(),
            ms: 1_939_699_800_000,
            plan: Value::Null,
        }
    }

    /// A question with what is kept.
    pub fn question(&self, do_what: &str) -> Value {
        let mut question = question(do_what, &self.texts);
        question["entries"] = json!(self.entries);
        question["now"] = json!({ "ms": self.ms, "offset": 60 });
        question["device"] = json!(self.device);
        question["plan"] = self.plan.clone();
        question
    }

    pub fn ask(&self, do_what: &str) -> Value {
        answered(&self.question(do_what))
    }

    /// Enters a thing, keeps what comes back, and gives the answer.
    pub fn enter(&mut self, kind: &str, what: &str, value: &str) -> Value {
        self.ms += 60_000;
        let mut question = self.question("enter");
        for (key, text) in [("kind", kind), ("what", what), ("value", value)] {
            question[key] = json!(text);
        }
        let answer = answered(&question);
        self.entries.extend(answer["entry"].as_str().map(str::to_owned));
        if answer["plan"].is_string() {
            self.plan = answer["plan"].clone();
        }
        answer
    }

    pub fn read(&mut self, what: &str, value: &str) -> Value {
        self.enter("reading", what, value)
    }

    /// Types the six tapes and both slopes of the meadow.
    pub fn type_meadow(&mut self) -> Value {
        self.read("method", "tape");
        for (leg, tape) in TAPES {
            self.read(&format!("leg {leg}"), tape);
        }
        // The rear is high along, the left is high across.
        self.read("slope along way", "rear");
        self.read("slope along", "4");
        self.read("slope across way", "left");
        self.read("slope across", "3")
    }
}

impl Phone {
    /// A phone on which the meadow's legs are set and the frame is lowered.
    pub fn lowered() -> Self {
        let mut phone = Self::of(meadow());
        let plan = phone.type_meadow()["plan"].as_str().expect("a plan").to_owned();
        phone.enter("adopt", "plan", &plan);
        for work in ["built", "pinned"] {
            for (leg, _) in TAPES {
                phone.enter("tick", &format!("{work} {leg}"), "yes");
            }
        }
        phone.enter("hold", "hold legs set", "yes");
        phone.enter("hold", "hold lowered", "yes");
        phone
    }

    /// Every height 645 and every foot snug, but for one corner that has sunk and left its foot light.
    pub fn read_frame(&mut self, gap: &str) -> Value {
        self.read("frame way", "heights");
        for (leg, _) in TAPES {
            self.read(&format!("foot {leg}"), "snug");
            self.read(&format!("height {leg}"), "645");
        }
        self.read("foot rear right", "light");
        self.read("gap rear right", gap)
    }
}

/// What the core answers.
pub fn answered(question: &Value) -> Value {
    serde_json::from_str(&tober_phone::core::answer(&question.to_string())).expect("the core answers in JSON")
}

fn cases(text: &str) -> Value {
    serde_json::from_str::<Value>(text).expect("the file is JSON")["cases"].clone()
}

/// All of them, one text each without a line break.
pub fn all() -> Vec<String> {
    let hard = Texts { pitch: HARD[0].to_owned(), visit: HARD[1].to_owned(), rows: None, ..meadow() };
    let mut phone = Phone::of(meadow());
    phone.type_meadow();
    let mut spoiled = Phone::of(meadow());
    spoiled.type_meadow();
    spoiled.read("leg rear left", "eight hundred");
    let mut next = phone.question("enter");
    for (key, text) in [("kind", "reading"), ("what", "leg rear left"), ("value", "805")] {
        next[key] = json!(text);
    }
    let (mut file, mut codes) = (phone.question("hand over"), phone.question("hand over"));
    file["as"] = json!("file");
    codes["as"] = json!("codes");
    let mut taken = Phone::of(meadow()).question("take in");
    taken["text"] = answered(&file)["text"].clone();
    let mut trimmed = Phone::lowered();
    trimmed.read_frame("30");
    let mut level = trimmed.question("enter");
    for (key, text) in [("kind", "reading"), ("what", "height rear right"), ("value", "637")] {
        level[key] = json!(text);
    }
    let at = |place: &str| {
        let mut question = phone.question("rehearse");
        question["at"] = json!(place);
        question
    };
    let mut questions = vec![
        question("plan", &meadow()),
        question("plan", &hard),
        phone.question("pages"),
        spoiled.question("pages"),
        next,
        file,
        codes,
        taken,
        trimmed.question("pages"),
        level,
        at("step-1"),
        at("step-24"),
        at("step-57.1-23.30"),
        at("if-27.1-10"),
        at("quiz-hand.7.1-3-"),
        at("step-1000"),
        json!("nonsense"),
    ];
    for (name, text) in [("packing", PACKING), ("supports", RIGID)] {
        for case in cases(text).as_array().expect("cases") {
            questions.push(json!({ "do": "calc", "name": name, "question": case }));
        }
    }
    assert_eq!(questions.len(), 17 + 24 + 24);
    questions.iter().map(Value::to_string).collect()
}
