//! The link of a card to the user's site, and its QR code: read by a decoder that others wrote, and opened as the pages
//! of the site open it.

use std::collections::BTreeMap;
use std::fs;
use std::process::Command;

use serde_json::{Value, json};
use wetside::page::Compiler;

use crate::evenings::{shelf, two_evenings};
use crate::printed::pages;
use crate::program::Run;
use crate::site::recipes;

const SITE: &str = "https://crew.example/recipes/";

fn with_site(run: Run, site: &str) -> Run {
    let run = run.file("own/wetside/tonight.toml", format!("site = \"{site}\"\n"));
    let own = run.folder().join("own").display().to_string();
    run.env("XDG_CONFIG_HOME", &own)
}

/// The call of the README's card.
fn card(run: &Run) -> Run {
    run.again().args(["card", "estuary-400-mq", "--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"])
}

/// The link of a card as text, which is its last line.
fn link(run: &Run) -> Option<String> {
    let text = run.succeeds();
    let (_, after) = text.split_once("\nON A PHONE\n")?;
    assert_eq!(after.lines().count(), 1, "{after}");
    Some(after.trim().to_owned())
}

/// The texts of all QR codes in a grey picture of this width and height.
fn read((width, height): (usize, usize), grey: impl FnMut(usize, usize) -> u8) -> Vec<String> {
    let mut picture = rqrr::PreparedImage::prepare_from_greyscale(width, height, grey);
    let codes = picture.detect_grids();
    codes.iter().map(|code| code.decode().unwrap().1).collect()
}

/// The code in a page as a picture with 4 pixels for each module, which [`read`] reads. What is outside of the drawn
/// ground is grey, so that a code without its quiet zone is not read.
fn in_page(page: &str) -> Vec<String> {
    let (_, after) = page.split_once("<div class=\"code\">").unwrap();
    let svg = after.split_once("<svg").unwrap().1.split_once("</svg>").unwrap().0;
    let svg = format!("<svg{svg}</svg>");
    let document = roxmltree::Document::parse(&svg).unwrap();
    let root = document.root_element();
    let side: usize = root.attribute("viewBox").unwrap().rsplit(' ').next().unwrap().parse().unwrap();
    let wide: f32 = root.attribute("width").unwrap().strip_suffix("mm").unwrap().parse().unwrap();
    assert!(wide / f32::from(u16::try_from(side).unwrap()) >= 0.5, "{wide} mm for {side} modules");
    let mut modules = vec![vec![128_u8; side]; side];
    for path in root.children().filter(|one| one.has_tag_name("path")) {
        let grey = match path.attribute("fill").unwrap() {
            "#fff" => 255,
            "#000" => 0,
            other => panic!("{other}"),
        };
        // Each piece is a rectangle: `Mx yhWvHh-Wz`.
        for piece in path.attribute("d").unwrap().split('z').filter(|piece| !piece.is_empty()) {
            let numbers =
                piece.split(|letter: char| !letter.is_ascii_digit()).filter(|text| !text.is_empty());
            let numbers: Vec<usize> = numbers.map(|text| text.parse().unwrap()).collect();
            let [x, y, wide, high, back] = numbers[..] else { panic!("{piece}") };
            assert_eq!(wide, back, "{piece}");
            modules[y..y + high].iter_mut().for_each(|row| row[x..x + wide].fill(grey));
        }
    }
    read((side * 4, side * 4), |x, y| modules[y / 4][x / 4])
}

#[test]
fn the_code_of_a_page_has_the_link_of_the_text() {
    let run = with_site(shelf(), SITE);
    let expected = link(&card(&run)).unwrap();
    assert!(expected.starts_with("https://crew.example/recipes/#recipe=estuary-400-mq&fingerprint=W"));
    assert!(expected.ends_with("&at=21.5C&rolls=5x120&tank=tall-five"), "{expected}");
    card(&run).args(["-o", "card.html"]).succeeds();
    let page = fs::read_to_string(run.folder().join("card.html")).unwrap();
    assert_eq!(in_page(&page), [expected]);
    // A site of the most characters, and an evening in which all is stated.
    let long = format!("https://crew.example/{}", "a".repeat(79));
    let run = with_site(run, &long);
    let full = || {
        let rolls = ["--rolls", "1x135+1x120+1x135", "--volume", "2500ml", "--clears", "1:20"];
        let args = ["card", "estuary-400-mq", "--at", "21.5C,wash=19C,fix=20.5C", "--ending", "21C"];
        run.again().args(args).args(rolls).args(["--tank", "tall-five", "--start", "19:30"])
    };
    let (status, text, told) = full().args(["-o", "card.html"]).ends();
    assert_eq!((status, &*text), (0, ""), "{told}");
    let page = fs::read_to_string(run.folder().join("card.html")).unwrap();
    let [read] = in_page(&page).try_into().unwrap();
    assert!(read.starts_with(&format!("{long}/#recipe=")) && read.contains("&start=19%3A30%3A00"), "{read}");
}

/// The grey values of a page of a PDF at 254 dots an inch, which are 10 a millimetre; `None` without the tool.
fn drawn(file: &std::path::Path, page: &str) -> Option<((usize, usize), Vec<u8>)> {
    let output = Command::new("pdftoppm")
        .args(["-gray", "-r", "254", "-f", page, "-l", page])
        .arg(file)
        .output()
        .ok()?;
    // `P5`, the width, the height and 255 on three lines, then a byte for each pixel (the netpbm format PGM).
    let head: Vec<&[u8]> = output.stdout.splitn(4, |byte| *byte == b'\n').collect();
    let size = std::str::from_utf8(head[1]).unwrap().split_once(' ').unwrap();
    assert_eq!((head[0], head[3].get(..0)), (&b"P5"[..], Some(&b""[..])));
    let size = (size.0.parse().unwrap(), size.1.parse().unwrap());
    let rest = output.stdout.len() - size.0 * size.1;
    Some((size, output.stdout[rest..].to_vec()))
}

#[test]
fn the_code_on_every_paper_has_the_link_of_the_text() {
    let run = with_site(shelf(), SITE);
    let expected = link(&card(&run)).unwrap();
    for paper in ["a4", "letter", "a5", "a6"] {
        card(&run).args(["--paper", paper, "-o", "card.pdf"]).succeeds();
        let file = run.folder().join("card.pdf");
        // Rows of modules are the only filled rectangles of this height: half a millimetre in points of 1/72 inch.
        let bytes = fs::read(&file).unwrap();
        let text = String::from_utf8_lossy(&bytes);
        let rectangles = text.lines().filter_map(|line| {
            let numbers = line.strip_suffix(" re")?.split(' ').map(|number| number.parse().ok());
            <[f32; 4]>::try_from(numbers.collect::<Option<Vec<f32>>>()?).ok()
        });
        let modules: Vec<[f32; 4]> =
            rectangles.filter(|[.., high]| (high - 0.5 * 72.0 / 25.4).abs() < 0.001).collect();
        assert!(modules.len() > 300, "{paper}: {}", modules.len());
        // The code is the last block of the back.
        let last = pages(&bytes).to_string();
        let Some(((wide, high), grey)) = drawn(&file, &last) else { return };
        // The part of the page with the code and its quiet zone of four modules, which are 20 pixels.
        let left = modules.iter().map(|[x, ..]| *x).fold(f32::MAX, f32::min) * 254.0 / 72.0;
        let foot = modules.iter().map(|[_, y, ..]| *y).fold(f32::MAX, f32::min) * 254.0 / 72.0;
        let (left, foot) = (pixels(left) - 20, high - pixels(foot) + 20);
        let side =
            20 + pixels(modules.iter().map(|[x, _, w, _]| x + w).fold(0.0, f32::max) * 254.0 / 72.0) - left;
        let part = |x: usize, y: usize| grey[(foot - side + y) * wide + left + x];
        assert_eq!(read((side, side), part), [expected.as_str()], "{paper}");
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place on a sheet of paper")]
fn pixels(place: f32) -> usize {
    place.round() as usize
}

/// The values after the `#` of a link, decoded as a browser does.
fn values(link: &str) -> BTreeMap<String, String> {
    let decoded = |text: &str| {
        let mut parts = text.split('%');
        let mut bytes = parts.next().unwrap().as_bytes().to_vec();
        for part in parts {
            bytes.push(u8::from_str_radix(&part[..2], 16).unwrap());
            bytes.extend(part[2..].bytes());
        }
        String::from_utf8(bytes).unwrap()
    };
    let (_, hash) = link.split_once('#').unwrap();
    hash.split('&')
        .map(|pair| pair.split_once('=').unwrap())
        .map(|(k, v)| (k.to_owned(), decoded(v)))
        .collect()
}

/// The card for the evening of a link, as a page of the site makes it.
fn by_a_page(compiler: &mut Compiler, list: &Value, link: &str) -> String {
    let mut evening = values(link);
    let fingerprint = evening.remove("fingerprint").unwrap();
    let mut all = list["answer"]["recipes"].as_array().unwrap().iter();
    let own =
        all.find(|one| one["name"] == *evening["recipe"] && one["fingerprint"] == *fingerprint).unwrap();
    evening.insert("file".to_owned(), own["file"].as_str().unwrap().to_owned());
    let request = json!({ "ask": "card", "evening": evening, "forms": ["json"] });
    let answer: Value = serde_json::from_str(&compiler.answer(&request.to_string())).unwrap();
    answer["answer"]["json"].as_str().unwrap_or_else(|| panic!("{link}: {answer}")).to_owned()
}

#[test]
fn a_link_opens_the_same_card() {
    let mut compiler = Compiler::default();
    compiler.answer(&json!({ "ask": "files", "files": recipes() }).to_string());
    let list = serde_json::from_str(&compiler.answer("{\"ask\":\"list\"}")).unwrap();
    let mut same = |run: Run, args: &[&str]| {
        let run = args.iter().fold(run, |run, arg| run.arg(*arg));
        let link = link(&run).unwrap();
        let expected = run.args(["--as", "json"]).succeeds();
        assert!(by_a_page(&mut compiler, &list, &link) == expected, "{link}");
    };
    let mut count = 0;
    two_evenings(|run, _| {
        let next = run.again();
        same(with_site(run, SITE).below("recipes"), &[]);
        count += 1;
        next
    });
    assert_eq!(count, 56);
    let shelf = with_site(shelf(), SITE).below("recipes");
    for args in [
        ["--ending", "19C", "--volume", "2550.5ml", "--start", "23:59:59"],
        ["--at", "70.3F,fix=20.123C", "--volume", "2.6l", "--clears", "1:20"],
    ] {
        let at: &[&str] = if args.contains(&"--at") { &[] } else { &["--at", "21.123C,fix=70.25F"] };
        let card = ["card", "estuary-400-mq", "--rolls", "2x120+1x135+1x120", "--tank", "tall-five"];
        same(shelf.again(), &[&card[..], at, &args].concat());
    }
}

#[test]
fn a_card_without_a_site_or_with_a_bottle_has_no_link() {
    let run = with_site(shelf(), SITE);
    assert_eq!(link(&card(&shelf())), None);
    assert_eq!(link(&card(&run).arg("--no-config")), None);
    let bottle = "wetside 1\nuse \"recipes/solutions.wet\"\nbath fix-a {\n    in rapid-fix 1+4\n    mixed 2026-11-01\n    volume 5 l\n}\n";
    let run = run.file("bottles.wet", bottle);
    let poured = || card(&run).args(["--date", "2026-11-02"]);
    assert!(poured().succeeds().contains("from fix-a"));
    assert_eq!(link(&poured()), None);
}
