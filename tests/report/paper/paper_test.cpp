#include "linkmargin/report/drawing/text_lines.hpp"
#include "linkmargin/report/paper/page_flow.hpp"
#include "linkmargin/report/paper/paper_report.hpp"
#include "linkmargin/yaml/site/language_yaml.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;
using namespace linkmargin::paper;

namespace {

constexpr Lettering kPlain{10, kInk, false};

std::string joined_lines(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line;
  std::erase(text, ' ');
  return text;
}

Block block_of(double height_px, const std::string& text) {
  Block block(kTextWidthPx);
  draw_text(block.out(), {0, 10}, text, kPlain);
  block.skip(height_px);
  return block;
}

std::vector<std::string> pages_of(PageFlow& flow) {
  return flow.take("", "footer", [](std::size_t number, std::size_t all) {
    return std::to_string(number) + " of " + std::to_string(all);
  });
}

bool holds(const std::string& page, const std::string& text) {
  return page.find(">" + text + "</text>") != page.npos;
}

}  // namespace

TEST_CASE("no line is wider than it may be, and no letter is lost") {
  for (const std::string text : {"a device that hangs on the wall of the hall",
                                 "Donaudampfschifffahrtselektrizitätenhauptbetriebswerk",
                                 "a_name_as_long_as_a_name_may_be_and_without_a_blank_in_it", "i",
                                 "wide 工作室工作室工作室工作室 end"}) {
    for (const double width : {40.0, 75.0, 300.0}) {
      for (const bool bold : {false, true}) {
        const Lettering lettering{10, kInk, bold};
        const std::vector<std::string> lines = lines_within(text, lettering, width);
        for (const std::string& line : lines) CHECK(text_width_px(line, lettering) <= width);
        std::string whole = text;
        std::erase(whole, ' ');
        CHECK(joined_lines(lines) == whole);
      }
    }
  }
}

TEST_CASE("a figure stays with its percent sign, and line breaks are kept") {
  CHECK(lines_within("reads 40 %", kPlain, 53).back() == "40\u00A0%");
  CHECK(lines_within("one\n\ntwo", kPlain, 300) == std::vector<std::string>{"one", "", "two"});
  CHECK(lines_within("", kPlain, 300) == std::vector<std::string>{""});
}

TEST_CASE("a text is fitted into a line by an ellipsis") {
  CHECK(fitted("short", kPlain, 300) == "short");
  const std::string cut = fitted("a long text that one line cannot hold", kPlain, 80);
  CHECK(cut.ends_with("\u2026"));
  CHECK(text_width_px(cut, kPlain) <= 80);
}

TEST_CASE("a block that does not fit begins a page, and a heading goes with it") {
  PageFlow flow;
  flow.add(block_of(kTextHeightPx - 100, "first"));
  flow.heading(block_of(20, "heading"));
  flow.add(block_of(200, "second"));
  const std::vector<std::string> pages = pages_of(flow);
  REQUIRE(pages.size() == 2);
  CHECK(holds(pages[0], "first"));
  CHECK_FALSE(holds(pages[0], "heading"));
  CHECK(holds(pages[1], "heading"));
  CHECK(holds(pages[1], "second"));
  CHECK(holds(pages[1], "2 of 2"));
}

TEST_CASE("what fits to the last pixel stays on the page, and white above it counts") {
  for (const double gap : {0.0, 10.0}) {
    PageFlow flow;
    flow.add(block_of(kTextHeightPx - 100, "first"));
    flow.gap(gap);
    flow.add(block_of(100, "second"));
    CHECK(pages_of(flow).size() == (gap > 0 ? 2 : 1));
  }
}

TEST_CASE("what is higher than a page is made smaller") {
  PageFlow flow;
  flow.add(block_of(4 * kTextHeightPx, "tall"));
  const std::vector<std::string> pages = pages_of(flow);
  REQUIRE(pages.size() == 1);
  CHECK(pages[0].find("scale(0.2500)") != std::string::npos);
}

TEST_CASE("a long text goes on on the next page") {
  PageFlow flow;
  std::string text;
  for (int i = 0; i < 2000; ++i) text += "word ";
  flow.write(text, kPlain);
  CHECK(pages_of(flow).size() >= 2);
}

TEST_CASE("a site without devices has a paper too, and a name is no markup") {
  Site site = fixture::two_rooms();
  site.devices.clear();
  site.name = "<b>\"Söhne\" & Co</b>";
  const SiteReview review = site_review(site, {.step_m = 1});
  const std::vector<std::string> pages = paper_pages(site, review, built_in_language("en"), {});
  REQUIRE(pages.size() >= 1);
  CHECK(holds(pages[0], "&lt;b&gt;&quot;Söhne&quot; &amp; Co&lt;/b&gt;"));
  CHECK(pages[0].find("<b>") == std::string::npos);
}
