//! The head of a page. The policy stands before all that it is about, and lets run what stands in the page alone.

use super::markup::Markup;
use super::policy::policy;
use super::style::Style;

/// The title of a page, its style, and the policy that lets this script run and nothing else.
pub(super) fn head(page: &mut Markup, title: &str, style: &Style, script: &str) {
    page.own("\n<meta charset=\"utf-8\">\n");
    page.policy(&policy(style.text(), script));
    page.own(
        "\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n",
    );
    page.element("title", title);
    page.own("\n");
    page.style(style);
    page.own("\n");
}
