#include "linkmargin/report/page/frame.hpp"

#include "linkmargin/base/embedded.hpp"
#include "linkmargin/base/joined.hpp"
#include "linkmargin/text/display_text.hpp"

namespace linkmargin::page {

void open_page(html::Writer& out, const Wording& wording, const std::string& site, Reader reader) {
  out.markup("<!DOCTYPE html>\n");
  out.open("html", {{"lang", wording.language().words().tag}});
  out.open("head");
  out.lone("meta", {{"charset", "utf-8"}});
  out.lone("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
  out.lone("meta", {{"name", "color-scheme"}, {"content", "light dark"}});
  out.lone("meta", {{"name", "referrer"}, {"content", "no-referrer"}});
  out.element("title", html::plain(wording.say("page.window", {{"site", printable(site)}})));
  out.open("style");
  out.markup(joined(embedded::page_style(), ""));
  out.close();
  out.close();
  out.open("body", {{"class", reader == Reader::file ? "for-file" : "for-customer"}});
}

void write_heading(html::Writer& out, const Wording& wording, const std::string& heading, Reader reader) {
  out.element("p", {{"class", "kind"}},
              wording.say(reader == Reader::file ? "page.kind_file" : "page.kind_customer"));
  out.element("h1", heading);
}

void write_footer(html::Writer& out, const std::string& words) {
  out.open("footer");
  out.element("p", words);
  out.close();
}

void close_page(html::Writer& out) {
  out.close();
  out.close();
}

}  // namespace linkmargin::page
