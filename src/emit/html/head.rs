//! The frame of a page, with a Content Security Policy that allows its own style and script and nothing else.

use data_encoding::BASE64;
use sha2::{Digest, Sha256};

use super::markup::Markup;

/// A whole page. Markup that got in by mistake could neither run nor load anything.
pub(super) fn document(
    title: &str,
    style: &'static str,
    script: &'static str,
    body: impl FnOnce(&mut Markup),
) -> String {
    let [allowed_style, allowed_script] = [style, script].map(source);
    let mut page = Markup::default();
    page.own(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"",
    );
    page.text(&format!(
        "default-src 'none'; style-src {allowed_style}; script-src {allowed_script}; base-uri 'none'; \
         form-action 'none'"
    ));
    page.own(
        "\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n",
    );
    page.element("title", title);
    page.all(["\n<style>", style, "</style>\n</head>\n<body>\n"]);
    body(&mut page);
    page.all(["\n<script>", script, "</script>\n</body>\n</html>\n"]);
    page.finish()
}

/// A style or script as a policy names it.
fn source(text: &str) -> String {
    format!("'sha256-{}'", BASE64.encode(&Sha256::digest(text.as_bytes())))
}

/// The text without indentation, blank lines and lines that are only a comment. No string of ours spans lines.
pub(super) fn compact(text: &str) -> String {
    let is_comment = |line: &str| line.starts_with("//") || line.starts_with("/*") && line.ends_with("*/");
    let lines = text.lines().map(str::trim_start).filter(|line| !line.is_empty() && !is_comment(line));
    lines.flat_map(|line| [line, "\n"]).collect()
}
