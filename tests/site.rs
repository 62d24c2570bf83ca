//! The site: the compiler in a page answers as the program does, and the pages are whole and load nothing from
//! outside.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use serde_json::{Value, json};
use wetside::page::{Compiler, Document, MARK, Site, site};

use crate::evenings::{SHELF, shelf};
use crate::program::Run;

/// The text files of the project's shelf without its folders, by name.
pub(crate) fn recipes() -> BTreeMap<String, String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let paths = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let files = paths.filter(|path| path.is_file());
    files
        .map(|path| {
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            (name, fs::read_to_string(path).unwrap())
        })
        .collect()
}

fn compiler(files: &BTreeMap<String, String>) -> Compiler {
    let mut compiler = Compiler::default();
    assert_eq!(asked(&mut compiler, &json!({ "ask": "files", "files": files })), json!({ "answer": null }));
    compiler
}

fn asked(compiler: &mut Compiler, request: &Value) -> Value {
    serde_json::from_str(&compiler.answer(&request.to_string())).unwrap()
}

/// The file and the temperatures of a recipe are known from the list of the shelf.
fn file_of(list: &Value, recipe: &str) -> String {
    let all = list["answer"]["recipes"].as_array().unwrap();
    let own =
        all.iter().find(|one| one["name"] == recipe).unwrap_or_else(|| panic!("{recipe} is not listed"));
    own["file"].as_str().unwrap().to_owned()
}

#[test]
fn a_card_of_a_page_is_that_of_the_program() {
    let mut compiler = compiler(&recipes());
    let list = asked(&mut compiler, &json!({ "ask": "list" }));
    assert_eq!(list["answer"]["unsound"], json!([]));
    let mut run = shelf().below("recipes");
    for evenings in &SHELF {
        let (recipe, tank) = (evenings.recipe, evenings.tank);
        let file = file_of(&list, recipe);
        for (at, rolls) in [evenings.all().next().unwrap(), evenings.all().last().unwrap()] {
            let evening = json!({ "file": file, "recipe": recipe, "at": at, "rolls": rolls, "tank": tank });
            let answer =
                asked(&mut compiler, &json!({ "ask": "card", "evening": evening, "forms": ["json"] }));
            let args = ["card", recipe, "--at", at, "--rolls", rolls, "--tank", tank];
            run = run.again().args(args).args(["--as", "json", "--no-config"]);
            assert_eq!(
                answer["answer"]["json"].as_str(),
                Some(&*run.succeeds()),
                "{recipe} at {at} with {rolls}"
            );
        }
    }
}

/// The page that is saved or followed from a site is not the card made last, so its call names everything.
#[test]
fn a_page_of_a_site_hands_over_a_call_that_the_program_takes() {
    let mut compiler = compiler(&recipes());
    let evening = json!({ "file": "estuary-400-mq.wet", "recipe": "estuary-400-mq", "at": "21.5C", "rolls": "5x120", "tank": "tall-five", "date": "2026-11-16", "clears": "" });
    let answer = asked(&mut compiler, &json!({ "ask": "card", "evening": evening, "forms": ["html"] }));
    let page = answer["answer"]["html"].as_str().unwrap();
    let call = "record estuary-400-mq.wet estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five --date 2026-11-16";
    assert!(page.contains(&format!("\"record\":\"wetside {call}\"")), "{page}");
    let told = call.split(' ').fold(shelf().below("recipes"), |run, word| run.arg(word)).succeeds();
    assert!(told.contains("recipe    estuary-400-mq,") && told.contains("at        21.5 C"), "{told}");
}

#[test]
fn an_evening_without_a_card_says_what_the_program_says() {
    let mut compiler = compiler(&recipes());
    let evening = json!({ "file": "estuary-400-mq.wet", "recipe": "estuary-400-mq", "at": "31C", "rolls": "5x120", "tank": "tall-five" });
    let answer = asked(&mut compiler, &json!({ "ask": "card", "evening": evening, "forms": ["body"] }));
    let message = answer["refused"]["findings"][0]["message"].as_str().unwrap();
    let run = shelf().below("recipes");
    let (_, told) = run
        .args(["card", "estuary-400-mq", "--at", "31C", "--rolls", "5x120", "--tank", "tall-five"])
        .fails(1);
    assert!(told.contains(message), "{message}\n{told}");
}

#[test]
fn wrong_values_are_refused_with_an_example() {
    let mut compiler = compiler(&recipes());
    let good = json!({ "file": "estuary-400-mq.wet", "recipe": "estuary-400-mq", "at": "21C", "rolls": "5x120", "tank": "tall-five" });
    for (field, value) in [
        ("at", "warm"),
        ("at", ""),
        ("at", "21C,21C"),
        ("rolls", "five"),
        ("rolls", "5x"),
        ("rolls", "0x120"),
        ("tank", "bucket"),
        ("index", "-1"),
        ("index", "99"),
        ("ending", "99"),
        ("volume", "1 mile"),
        ("clears", "soon"),
        ("start", "25:00"),
        ("file", "../../etc/passwd"),
        ("file", "films"),
        ("recipe", "no-such-recipe"),
    ] {
        let mut evening = good.clone();
        evening[field] = json!(value);
        let answer = asked(&mut compiler, &json!({ "ask": "card", "evening": evening, "forms": ["text"] }));
        let found = answer["refused"]["findings"][0].clone();
        assert!(found["message"].as_str().is_some_and(|text| !text.is_empty()), "{field} {value}: {answer}");
        assert!(found["help"].as_array().is_some_and(|help| !help.is_empty()), "{field} {value}: {answer}");
    }
}

/// Texts that are no recipes, and no requests.
fn hostile() -> Vec<String> {
    let short = [
        "",
        "\0",
        "\u{feff}",
        "{",
        "}",
        "\"",
        "#",
        "wetside",
        "wetside 99",
        "wetside 2\n{",
        "wetside 2\nrecipe",
        "wetside 2\nrecipe a {",
        "wetside 2\nrecipe a from a {\n}",
        "wetside 2\nuse \"../../x.wet\"",
        "wetside 2\nuse \"/etc/passwd\"",
        "wetside 2\nuse \"http://x.wet\"",
        "<script>alert(1)</script>",
        "wetside 2\nrecipe <b> \"<img src=x onerror=alert(1)>\" {\n}",
        "\u{202e}wetside 2",
        "wetside 2\r\rrecipe",
        "wetside 2\nsolution a {\n formula {\n 999999999999999999 g x\n }\n}",
        "wetside 2\nfilm a {\n speed ISO 0\n}",
        "wetside 2\ntank a {\n}\ntank a {\n}",
        "wetside 2\nfilm é \"e\u{301}\" {\n}",
        "1e999",
        "NaN",
        "-0",
        "٣",
        "½",
        "wetside 2\nnote \"\u{1b}[31mred\"",
        "wetside 1\nswap a for b",
        "<<<<<<< ours\n=======\n>>>>>>> theirs",
        "wetside 2\nrecipe __proto__ {\n}",
        "wetside 2\nrecipe constructor {\n}",
        "wetside 2\nuse \"a.wet\"\nuse \"b.wet\"\n",
        "💩",
    ];
    let long =
        ["{".repeat(100_000), "a".repeat(300_000), "\"".repeat(5_000), "recipe a {\n}\n".repeat(2_000)];
    short.map(str::to_owned).into_iter().chain(long).collect()
}

fn message(method: &str, id: Option<u32>, params: Value) -> Value {
    let mut message = json!({ "jsonrpc": "2.0", "method": method, "params": params });
    if let Some(id) = id {
        message["id"] = json!(id);
    }
    json!({ "ask": "editor", "message": message })
}

/// 40 texts, each as a request, and in seven requests.
#[test]
fn hostile_requests_get_a_refusal_or_an_answer() {
    let texts = hostile();
    assert_eq!(texts.len(), 40);
    let mut compiler = Compiler::default();
    let begun = asked(&mut compiler, &message("initialize", Some(0), json!({ "capabilities": {} })));
    assert!(begun["answer"][0]["result"].is_object());
    for text in texts {
        let raw: Value = serde_json::from_str(&compiler.answer(&text)).unwrap();
        assert!(raw["refused"]["findings"][0]["message"].is_string(), "{raw}");
        let document = json!({ "uri": "file:///a.wet" });
        let open = json!({ "uri": "file:///a.wet", "languageId": "wetside", "version": 1, "text": text });
        let at = json!({ "textDocument": document, "position": { "line": 1, "character": 3 } });
        let evening = json!({ "file": "a.wet", "recipe": "a", "at": text, "rolls": text, "tank": text });
        for (request, key) in [
            (json!({ "ask": "text", "file": "a.wet", "text": text }), "answer"),
            (json!({ "ask": "list" }), "answer"),
            (json!({ "ask": "tokens", "text": text }), "answer"),
            (message("textDocument/didOpen", None, json!({ "textDocument": open })), "answer"),
            (message("textDocument/completion", Some(1), at), "answer"),
            (json!({ "ask": "card", "evening": evening, "forms": ["body", "html", "json"] }), "refused"),
            (json!({ "ask": "sheet", "file": "a.wet", "solution": text, "make": text }), "refused"),
        ] {
            let answer = asked(&mut compiler, &request);
            assert!(answer.get(key).is_some(), "{}: {answer}", text.chars().take(60).collect::<String>());
        }
    }
}

#[test]
fn colours_cover_the_words_that_they_name() {
    let text = "wetside 2\n# été\nfilm a \"ü\" { # 𝄞 x\n    speed ISO 400\n}\n";
    let answer = asked(&mut Compiler::default(), &json!({ "ask": "tokens", "text": text }));
    let units: Vec<u16> = text.encode_utf16().collect();
    let pieces = answer["answer"].as_array().unwrap().iter().map(|piece| {
        let at = |name: &str| usize::try_from(piece[name].as_u64().unwrap()).unwrap();
        (piece["kind"].as_str().unwrap(), String::from_utf16(&units[at("start")..at("end")]).unwrap())
    });
    let pieces: Vec<(&str, String)> = pieces.collect();
    let expected = [
        ("keyword", "wetside"),
        ("number", "2"),
        ("comment", "# été"),
        ("keyword", "film"),
        ("text", "\"ü\""),
        ("comment", "# 𝄞 x"),
        ("keyword", "speed"),
        ("number", "400"),
    ];
    assert_eq!(pieces, expected.map(|(kind, text)| (kind, text.to_owned())));
}

/// A site with a module that no browser would run.
fn pages(files: BTreeMap<String, String>) -> BTreeMap<String, String> {
    let documents = [
        Document { name: "guide", title: "Guide", body: "<h1>Guide</h1>".to_owned() },
        Document { name: "reference", title: "Reference", body: String::new() },
    ];
    site(Site { title: "Recipes", files, module: b"\0asm", documents: &documents }).0
}

/// The values of an attribute in a page.
fn values<'a>(page: &'a str, attribute: &str) -> Vec<&'a str> {
    let before = format!(" {attribute}=\"");
    page.split(before.as_str()).skip(1).map(|rest| rest.split('"').next().unwrap()).collect()
}

#[test]
fn pages_refer_only_to_files_of_the_site() {
    let pages = pages(recipes());
    let html = pages.iter().filter(|(path, _)| path.ends_with(".html"));
    let mut count = 0;
    for (path, page) in html {
        for address in values(page, "href").into_iter().chain(values(page, "src")) {
            count += 1;
            let mut folders: Vec<&str> = path.split('/').collect();
            folders.pop();
            for part in address.split('/') {
                match part {
                    ".." => _ = folders.pop().unwrap(),
                    part => folders.push(part),
                }
            }
            assert!(pages.contains_key(&folders.join("/")), "{path} refers to {address}");
        }
        assert!(page.contains("default-src 'none'; script-src 'self' 'wasm-unsafe-eval' 'sha256-"), "{path}");
    }
    assert!(count > 400, "{count}");
    for (path, text) in &pages {
        assert!(!text.contains("http://") || path.starts_with("recipes/"), "{path}");
        assert!(
            !["fetch(\"", "XMLHttpRequest", "WebSocket", "EventSource", "sendBeacon"]
                .iter()
                .any(|word| text.contains(word)),
            "{path}"
        );
    }
}

#[test]
fn texts_of_a_shelf_add_no_tag() {
    let plain = "wetside 2\nfilm a \"plain\" {\n    speed ISO 100\n}\nsolution b \"plain\" {\n    role developer\n}\n";
    let hostile = plain.replace("plain", "'><script>alert(1)</script><b onclick='x' {{main}}");
    let tags = |text: &str| {
        let pages = pages(BTreeMap::from([("a.wet".to_owned(), text.to_owned())]));
        pages
            .iter()
            .filter(|(path, _)| path.ends_with(".html"))
            .map(|(_, page)| page.matches('<').count())
            .collect::<Vec<_>>()
    };
    assert_eq!(tags(plain), tags(&hostile));
}

#[test]
fn the_example_of_the_bench_is_sound() {
    let example = include_str!("../src/page/site/example.txt");
    let run = Run::new().file("example.wet", example).args(["check", "example.wet"]);
    run.succeeds();
}

/// A file that the program takes for a module.
fn module() -> Vec<u8> {
    [b"\0asm".as_slice(), MARK.as_bytes()].concat()
}

#[test]
fn site_writes_a_folder_and_leaves_personal_files_out() {
    let run = Run::new().folders_of_repo("recipes").file("module.wasm", module());
    let run =
        run.args(["site", "recipes", "-o", "public", "--module", "module.wasm", "--title", "Of the crew"]);
    let told = run.succeeds();
    assert!(told.contains("wrote public: "), "{told}");
    assert!(told.contains("left out (personal): estuary-autumn/backlog.wet"), "{told}");
    let public = run.folder().join("public");
    let text = |path: &str| fs::read_to_string(public.join(path)).unwrap();
    assert!(text("index.html").contains("<h1>Of the crew</h1>"));
    assert!(text("recipes/estuary-400-mq/estuary-400-mq.html").contains("data-name=\"estuary-400-mq\""));
    assert!(!text("shelf.js").contains("backlog"));
    let guide = text("guide.html");
    assert!(guide.contains("<h2 id=\"") && !guide.contains("href=\"README.md"), "{guide}");
    // The second time, the site replaces the first.
    fs::write(public.join("old.html"), "old").unwrap();
    let again = run.again().args(["site", "recipes", "-o", "public", "--module", "module.wasm"]);
    again.succeeds();
    assert!(!public.join("old.html").exists());
    assert!(fs::read_to_string(public.join("index.html")).unwrap().contains("<h1>Recipes</h1>"));
}

#[test]
fn site_replaces_nothing_that_it_did_not_write() {
    let run =
        Run::new().folder_of_repo("recipes").file("module.wasm", module()).file("mine/notes.txt", "mine");
    let run = run.args(["site", "recipes", "-o", "mine", "--module", "module.wasm"]);
    let (_, told) = run.fails(2);
    assert!(told.contains("mine is there, and it is not a site"), "{told}");
    assert_eq!(fs::read_to_string(run.folder().join("mine/notes.txt")).unwrap(), "mine");
    for (module, said) in
        [("no-file.wasm", "No such file"), ("mine/notes.txt", "is no module for pages of this version")]
    {
        let (_, told) = run.again().args(["site", "recipes", "-o", "new", "--module", module]).fails(2);
        assert!(told.contains(said), "{told}");
        assert!(!run.folder().join("new").exists());
    }
    let (_, told) = run.again().args(["site", "recipes", "-o", "new"]).fails(2);
    assert!(told.contains("this program has no module for pages in it"), "{told}");
    let (_, told) = run.again().args(["site", "none", "-o", "new", "--module", "module.wasm"]).fails(2);
    assert!(told.contains("none is not a folder"), "{told}");
}
