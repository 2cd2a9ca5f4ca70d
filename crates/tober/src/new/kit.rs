//! A new kit: the boards, measured.

use super::asked::{Answers, Given, Question};
use super::{Begun, Beside, quoted};
use tober_book::FileKind;

pub const KIT: Begun = Begun {
    file: FileKind::Kit,
    about: "Begin a kit: the boards by their actual size",
    questions: &[
        Question::left("name", "What is the kit called?", ("a name", "Van 1"), "it is called \"The kit\"."),
        Question::left(
            "board",
            "Which boards are there? Measure them: a board sold as 50 mm is rarely 50 mm.",
            (
                "how many sound ones, then actual thickness, length and width with their units, parted by commas",
                "12, 48 mm, 600 mm, 600 mm",
            ),
            "no boards; the feet stand on the ground.",
        )
        .many(),
        Question::INVENTED,
    ],
    write,
    next: "tober new pitch -o FOLDER",
};

fn board(text: &str, earlier: &[String]) -> Result<(String, String), Given> {
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let &[count, thickness, length, width] = parts.as_slice() else {
        let said = format!(
            "{text:?} has {} parts; write four: how many, thickness, length and width, such as \"{}\"; each sort of board by itself.",
            parts.len(),
            KIT.questions[1].example
        );
        return Err(Given::new("board", said));
    };
    let whole = !count.is_empty() && count.len() <= 9 && count.bytes().all(|b| b.is_ascii_digit());
    if !whole || (count.len() > 1 && count.starts_with('0')) {
        let said = format!("{count:?} is no whole number; write how many boards there are, such as 12.");
        return Err(Given::new("board", said));
    }
    // Boards are called by their thickness; two kinds of one thickness are told apart by their plan.
    let name = if earlier.iter().any(|name| name == thickness) {
        format!("{thickness}, {length}")
    } else {
        thickness.to_owned()
    };
    let section = format!(
        "\n[[board]]\nname = {}\nthickness = {}\nlength = {}\nwidth = {}\ncount = {count}\nrole = \"timber\"\n",
        quoted(&name),
        quoted(thickness),
        quoted(length),
        quoted(width)
    );
    Ok((name, section))
}

fn write(answers: &Answers, _: &Beside) -> Result<String, Given> {
    let mut out = format!("{HEAD}\n[kit]\nname = {}\n", quoted(answers.one("name").unwrap_or("The kit")));
    if let Some(invented) = answers.one("invented") {
        out += &format!("invented = {}\n", quoted(invented));
    }
    let mut names = Vec::new();
    for (at, text) in answers.all("board").iter().enumerate() {
        let (name, section) = board(text, &names)?;
        names.push(name);
        out += &section;
        if at == 0 {
            out += OF_A_BOARD;
        }
    }
    Ok(out + OF_THE_REST)
}

const HEAD: &str = r##"# A kit: what travels with the ride to set it up.
#
# A line that begins with "#" and no space behind it is an example of what can be added: put your own figure in it and
# take the "#" away.

format = 0
"##;

const OF_A_BOARD: &str = r##"# The same can be added to each kind of board.
# The strength class of its timber, as a table of strengths names it: makes crushing and bending known.
#timber = "C24"
# Of a plate of metal laid as a board, its metal in place of the timber: "S235" to "S355", "EN AW-6082 T6".
#metal = "S275"
# What one weighs.
#mass = "8 kg"
"##;

const OF_THE_REST: &str = r##"
# Mats, to spread a load on soft ground: under a stack only.
#[[board]]
#name = "mat"
#thickness = "38 mm"
#length = "900 mm"
#width = "900 mm"
#count = 4
#role = "mat"

# Thin ply, between timbers only.
#[[board]]
#name = "ply 12"
#thickness = "12 mm"
#length = "600 mm"
#width = "600 mm"
#count = 4
#role = "thin ply"

# Wedges, in pairs between timbers.
#[[board]]
#name = "wedge"
#thickness = "60 mm"
#thickness-thin = "10 mm"
#length = "400 mm"
#width = "150 mm"
#count = 8
#role = "wedge"

# Jacks: make known whether the frame can be lifted.
#[[jack]]
#name = "bottle jack"
#rated-load = "10 t"
#closed-height = "240 mm"
#stroke = "150 mm"
#count = 2

# A winch. One without a rating for lifting lifts nothing.
#[[winch]]
#name = "winch"
#lifting-rating = "5 kN"
#examined = "2031-01-20"

# Cables, each kind.
#[[cable]]
#name = "32 A, 25 m"
#length = "25 m"
#conductor-area = "6 mm2"
#cores = 5
#count = 2

# Tools that the steps of the ride book need.
#[[tool]]
#name = "hammer"
#count = 2
"##;
