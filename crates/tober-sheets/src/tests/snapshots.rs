//! Pages as pictures, kept and compared.
//!
//! What is kept of a page is its ink: how dark each cell of 2 mm is. `TOBER_GOLDEN=write cargo test --release -p tober
//! -p tober-sheets pages_look` writes the kept pictures anew, after somebody has looked at the pages.

#[cfg(test)]
use super::*;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use tober_plan::{LiftBooks, LiftOfStep};
use typst::utils::Scalar;
use typst_layout::Page;
use typst_render::{RenderOptions, render};

/// The side of a cell, mm: less than a line of the smallest type (9 pt, 3.2 mm), so that no line hides in one.
const CELL_MM: usize = 2;
/// Pixels of a millimetre when a page is drawn for its ink.
const PIXELS_MM: usize = 2;
/// How far the ink of one cell may be from what is kept, of 255. Drawn by the same program on another processor, a pixel's
/// coverage may round otherwise by one step or two; what is kept is rounded to fours, which is two more. One letter of
/// the smallest type is over 10 of 255 of the ink of its cell.
const CELL_TOLERANCE: u8 = 6;
/// Letters of a printed plan's name in a picture: the name changes with every figure, which is not a matter of looks.
const PLAN_NAME: &str = "snapshot";

/// How dark each cell of a page is, row by row; 255 is black.
#[derive(Clone, Debug, PartialEq)]
struct Ink {
    wide: usize,
    cells: Vec<u8>,
}

/// A page drawn in grey: its width in pixels, and every pixel, 255 for white.
fn grey(page: &Page, pixels_mm: f64) -> (usize, Vec<u8>) {
    let pixel_per_pt = Scalar::new(pixels_mm * 25.4 / 72.0);
    let drawn = render(page, &RenderOptions { pixel_per_pt, render_bleed: false });
    // Luma of ITU-R BT.709, as a grey printer weighs colours.
    let luma = |p: &resvg::tiny_skia::PremultipliedColorU8| {
        let sum = 2126 * u32::from(p.red()) + 7152 * u32::from(p.green()) + 722 * u32::from(p.blue());
        u8::try_from(sum / 10_000).expect("a mean of bytes is a byte")
    };
    (drawn.width() as usize, drawn.pixels().iter().map(luma).collect())
}

impl Ink {
    fn of(page: &Page) -> Self {
        let (wide, pixels) = grey(page, PIXELS_MM as f64);
        Self::of_pixels(wide, &pixels, CELL_MM * PIXELS_MM)
    }

    fn of_pixels(pixels_wide: usize, pixels: &[u8], side: usize) -> Self {
        let wide = pixels_wide.div_ceil(side);
        let high = (pixels.len() / pixels_wide).div_ceil(side);
        let mut sums = vec![(0_usize, 0_usize); wide * high];
        for (at, pixel) in pixels.iter().enumerate() {
            let cell = &mut sums[(at / pixels_wide / side) * wide + at % pixels_wide / side];
            *cell = (cell.0 + usize::from(255 - pixel), cell.1 + 1);
        }
        let rounded = |(sum, count): &(usize, usize)| {
            let fours = (sum + 2 * count) / (4 * count);
            u8::try_from(fours * 4).unwrap_or(u8::MAX)
        };
        Self { wide, cells: sums.iter().map(rounded).collect() }
    }

    fn high(&self) -> usize {
        self.cells.len() / self.wide
    }

    /// As it is kept.
    fn png(&self) -> Vec<u8> {
        let white: Vec<u8> = self.cells.iter().map(|ink| 255 - ink).collect();
        png_of(self.wide, self.high(), &white)
    }

    fn read(bytes: &[u8]) -> Result<Self, String> {
        let (wide, white) = read_png(bytes)?;
        Ok(Self { wide, cells: white.iter().map(|white| 255 - white).collect() })
    }

    /// How this differs from what is kept, if it does: a sentence.
    fn differs(&self, kept: &Self) -> Option<String> {
        if (self.wide, self.high()) != (kept.wide, kept.high()) {
            return Some(format!(
                "it is {} by {} cells, kept are {} by {}",
                self.wide,
                self.high(),
                kept.wide,
                kept.high()
            ));
        }
        let apart = self.cells.iter().zip(&kept.cells).map(|(now, kept)| now.abs_diff(*kept));
        let out: Vec<(usize, u8)> = apart.enumerate().filter(|(_, apart)| *apart > CELL_TOLERANCE).collect();
        let (worst, _) = out.iter().max_by_key(|(_, apart)| *apart)?;
        let (column, row) = (worst % self.wide, worst / self.wide);
        Some(format!(
            "{} of {} cells differ by more than {CELL_TOLERANCE}, most the cell {column} from the left and {row} from the \
             top ({} mm and {} mm): its ink is {} of 255, kept is {}",
            out.len(),
            self.cells.len(),
            column * CELL_MM,
            row * CELL_MM,
            self.cells[*worst],
            kept.cells[*worst]
        ))
    }

    /// What is kept, what is now, and what differs, side by side, each cell four pixels wide.
    fn beside(&self, kept: &Self) -> Vec<u8> {
        const SIDE: usize = 4;
        let (wide, high) = (self.wide.max(kept.wide), self.high().max(kept.high()));
        let at = |ink: &Self, x: usize, y: usize| {
            if x < ink.wide && y < ink.high() { ink.cells[y * ink.wide + x] } else { 0 }
        };
        let mut white = Vec::with_capacity(3 * wide * high * SIDE * SIDE);
        for y in 0..high * SIDE {
            for panel in 0..3 {
                for x in 0..wide * SIDE {
                    let (x, y) = (x / SIDE, y / SIDE);
                    let (was, now) = (at(kept, x, y), at(self, x, y));
                    let apart = was.abs_diff(now);
                    let apart = if apart > CELL_TOLERANCE { apart.saturating_mul(4) } else { 0 };
                    white.push(255 - [was, now, apart][panel]);
                }
            }
        }
        png_of(3 * wide * SIDE, high * SIDE, &white)
    }
}

fn png_of(wide: usize, high: usize, white: &[u8]) -> Vec<u8> {
    let size = |side: usize| u32::try_from(side).expect("a page has no so many pixels");
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, size(wide), size(high));
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::High);
    let mut writer = encoder.write_header().expect("it writes to memory");
    writer.write_image_data(white).expect("it writes to memory");
    writer.finish().expect("it writes to memory");
    out
}

/// A grey picture: its width, and every pixel, 255 for white.
fn read_png(bytes: &[u8]) -> Result<(usize, Vec<u8>), String> {
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().map_err(|e| e.to_string())?;
    let mut white = vec![0; reader.output_buffer_size().ok_or("it is too large")?];
    let info = reader.next_frame(&mut white).map_err(|e| e.to_string())?;
    if info.color_type != png::ColorType::Grayscale || info.bit_depth != png::BitDepth::Eight {
        return Err("it is not a grey picture of 8 bits".to_owned());
    }
    white.truncate(info.buffer_size());
    Ok((info.width as usize, white))
}

fn golden() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("golden")
}

fn writes() -> bool {
    std::env::var("TOBER_GOLDEN").is_ok_and(|what| what == "write")
}

/// A demo as the command prints it: with its lifts, and with a plan that has the same name whatever its figures are.
fn printed(shelf: &Shelf) -> (Plan, EveryOrder, Vec<LiftOfStep>) {
    let (mut plan, every) = shelf.planned();
    plan.name = PLAN_NAME.to_owned();
    let lifts = tober_plan::lifts(LiftBooks {
        ride: &shelf.ride,
        kit: Some(&shelf.kit),
        pitch: Some(&shelf.pitch),
        visit: Some(&shelf.visit),
    });
    (plan, every, lifts)
}

/// The pages of one sheet; none where the visit has nothing to put on it.
fn sheet(given: &Given<'_>, kind: SheetKind, paper: Paper) -> Vec<Page> {
    match files_of(given, &Ask { paper, ..only(kind) }) {
        Ok((files, ..)) => press::pages(files).expect("it can be set").pages().to_vec(),
        Err(SheetsError::Empty { .. }) => Vec::new(),
        Err(error) => panic!("{}: {error}", kind.name()),
    }
}

#[test]
fn regress_pages_look_as_they_are_kept() {
    let mut complaints = Vec::new();
    let mut counts = String::new();
    let mut wanted = BTreeSet::new();
    let mut compare = |name: String, now: &Ink| {
        let file = golden().join(&name);
        if writes() {
            fs::create_dir_all(golden()).expect("the folder can be made");
            fs::write(&file, now.png()).expect("the picture can be written");
        }
        let kept = fs::read(&file).map_err(|e| e.to_string()).and_then(|bytes| Ink::read(&bytes));
        let differs = match &kept {
            Ok(kept) => now.differs(kept),
            Err(error) => Some(error.clone()),
        };
        if let Some(differs) = differs {
            let shown = std::env::temp_dir().join(format!("tober-differs-{name}"));
            let nothing = Ink { wide: now.wide, cells: vec![0; now.cells.len()] };
            fs::write(&shown, now.beside(kept.as_ref().unwrap_or(&nothing))).expect("it can be written");
            complaints.push(format!("{name}: {differs}. Kept, now and the difference: {}", shown.display()));
        }
        wanted.insert(name);
    };
    for (demo, shelf) in [("lantern", lantern()), ("osier", osier())] {
        let (plan, every, lifts) = printed(&shelf);
        let given = Given { lifts: &lifts, ..shelf.given(&plan, &every) };
        for paper in [Paper::A4, Paper::Letter] {
            for kind in SheetKind::ALL {
                let pages = sheet(&given, kind, paper);
                assert!(kind != SheetKind::OnePage || pages.len() == 1, "the one page of {demo} is one page");
                let paper = if paper == Paper::A4 { "a4" } else { "letter" };
                writeln!(counts, "{demo} {paper} {}: {} pages", kind.name(), pages.len())
                    .expect("it writes to memory");
                // Cards go on over their pages, and the second shows how.
                let kept = if matches!(kind, SheetKind::Legs | SheetKind::Steps) { 2 } else { 1 };
                for (at, page) in pages.iter().take(kept).enumerate() {
                    compare(format!("{demo}-{paper}-{}-{}.png", kind.name(), at + 1), &Ink::of(page));
                }
            }
        }
    }
    let file = golden().join("pages.txt");
    if writes() {
        fs::write(&file, &counts).expect("the counts can be written");
        for entry in fs::read_dir(golden()).expect("the folder is there") {
            let path = entry.expect("an entry can be read").path();
            let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
            if name.ends_with(".png") && !wanted.contains(&name) {
                fs::remove_file(&path).expect("it can be removed");
            }
        }
    }
    let kept = fs::read_to_string(&file).unwrap_or_default();
    for (now, kept) in counts.lines().zip(kept.lines().chain(core::iter::repeat(""))) {
        if now != kept {
            complaints.push(format!("{now}, kept is \"{kept}\""));
        }
    }
    assert!(
        complaints.is_empty(),
        "{} pictures differ. If the change is meant, look at the pages and write them anew with TOBER_GOLDEN=write.\n{}",
        complaints.len(),
        complaints.join("\n")
    );
}

/// The sheets of a demo as the data of the template, and all other files.
fn data(given: &Given<'_>, kind: SheetKind) -> (Value, Files) {
    let (files, ..) = files_of(given, &only(kind)).expect("it can be made");
    (serde_json::from_slice(&files["pack.json"]).expect("it is JSON"), files)
}

fn first_page(data: &Value, files: &Files) -> Page {
    let mut files = files.clone();
    files.insert("pack.json".to_owned(), data.to_string().into_bytes());
    press::pages(files).expect("it can be set").pages()[0].clone()
}

#[test]
fn law_a_block_that_is_missing_and_a_figure_that_changes_are_seen() {
    let shelf = osier();
    let (plan, every, lifts) = printed(&shelf);
    let given = Given { lifts: &lifts, ..shelf.given(&plan, &every) };
    // As many of their blocks as stand on their first page.
    for (kind, count) in [(SheetKind::OnePage, 6), (SheetKind::Limits, 6), (SheetKind::Calls, 3)] {
        let (data, files) = data(&given, kind);
        let before = Ink::of(&first_page(&data, &files));
        assert_eq!(before.differs(&before), None);
        let blocks = data["sheets"][0]["blocks"].as_array().expect("it has blocks").len();
        for at in 0..blocks.min(count) {
            let mut less = data.clone();
            less["sheets"][0]["blocks"].as_array_mut().expect("it has blocks").remove(at);
            let after = Ink::of(&first_page(&less, &files));
            let seen = after.differs(&before);
            assert!(seen.is_some(), "{}: block {at} of {blocks} can go unseen", kind.name());
        }
    }
    // One letter of the smallest type that is printed: an 8 for a 3 in the foot.
    let (mut data, files) = data(&given, SheetKind::Limits);
    data["plan"] = json!("8");
    let before = Ink::of(&first_page(&data, &files));
    data["plan"] = json!("3");
    let after = Ink::of(&first_page(&data, &files));
    assert!(after.differs(&before).is_some(), "a figure of the foot can change unseen");
}

#[test]
fn law_a_line_that_moves_by_half_a_millimetre_is_seen() {
    let shelf = osier();
    let (plan, every, lifts) = printed(&shelf);
    let given = Given { lifts: &lifts, ..shelf.given(&plan, &every) };
    let page = &sheet(&given, SheetKind::Calls, Paper::A4)[0];
    let (wide, pixels) = grey(page, PIXELS_MM as f64);
    let before = Ink::of_pixels(wide, &pixels, CELL_MM * PIXELS_MM);
    let rows: Vec<&[u8]> = pixels.chunks(wide).collect();
    let empty = |row: &[u8]| row.iter().all(|pixel| *pixel == 255);
    let mut lines = 0;
    let mut from = 0;
    while from < rows.len() {
        let Some(first) = (from..rows.len()).find(|row| !empty(rows[*row])) else { break };
        let last = (first..rows.len()).find(|row| empty(rows[*row])).unwrap_or(rows.len());
        // What is lower than a cell is a rule alone, which can move inside its cell and not be seen.
        if last < rows.len() && last - first > CELL_MM * PIXELS_MM {
            // The rows of the line one pixel lower; the empty row below it comes above.
            let mut moved = rows.clone();
            moved[first..=last].rotate_right(1);
            let after = Ink::of_pixels(wide, &moved.concat(), CELL_MM * PIXELS_MM);
            assert!(after.differs(&before).is_some(), "the line in the rows {first} to {last} moves unseen");
            lines += 1;
        }
        from = last + 1;
    }
    assert!(lines > 5, "the page has {lines} lines that stand alone");
}

#[test]
fn refuse_a_kept_picture_of_another_size_or_kind() {
    let small = Ink { wide: 2, cells: vec![0, 8, 16, 24] };
    assert_eq!(Ink::read(&small.png()), Ok(small.clone()));
    let large = Ink { wide: 2, cells: vec![0; 6] };
    let said = large.differs(&small).expect("they differ");
    assert!(said.contains("2 by 3 cells, kept are 2 by 2"), "{said}");
    assert!(Ink::read(b"no picture").is_err());
}

/// Pixels of a millimetre of the pictures in the README.
const README_PIXELS_MM: f64 = 3.6;
/// The greys of the pictures in the README.
const README_GREYS: u8 = 16;
/// The largest that a picture in the README may be.
const README_BYTES: usize = 150_000;
/// The side of the cells in which the pictures of the README are compared, pixels.
const README_CELL: usize = 8;

#[test]
fn regress_the_pages_in_the_readme_are_those_that_print() {
    let shelf = lantern();
    let (plan, every) = shelf.planned();
    let (_, _, lifts) = printed(&shelf);
    let given = Given { lifts: &lifts, ..shelf.given(&plan, &every) };
    let step = |page: &Page| {
        let mut said = String::new();
        measure::walk(&page.frame, typst::layout::Transform::identity(), &mut |text, _, _| {
            said.push_str(text);
        });
        said.contains("Raise the mast")
    };
    let steps = sheet(&given, SheetKind::Steps, Paper::A4);
    let card = steps.into_iter().find(step).expect("a page has the card of the mast");
    let one = sheet(&given, SheetKind::OnePage, Paper::A4).remove(0);
    for (name, page) in [("page-one", one), ("page-steps", card)] {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../docs/{name}.png"));
        let (wide, pixels) = grey(&page, README_PIXELS_MM);
        let pixels: Vec<u8> = pixels
            .iter()
            .map(|pixel| {
                let step = 255 / (README_GREYS - 1);
                (pixel / step + u8::from(pixel % step > step / 2)) * step
            })
            .collect();
        if writes() {
            fs::write(&file, png_of(wide, pixels.len() / wide, &pixels)).expect("it can be written");
        }
        let bytes = fs::read(&file).expect("the picture is there");
        assert!(bytes.len() <= README_BYTES, "{name}: {} bytes", bytes.len());
        let (kept_wide, kept) = read_png(&bytes).expect("it is a picture");
        let kept = Ink::of_pixels(kept_wide, &kept, README_CELL);
        let differs = Ink::of_pixels(wide, &pixels, README_CELL).differs(&kept);
        assert_eq!(differs, None, "docs/{name}.png: docs/refresh.sh makes it anew");
    }
}
