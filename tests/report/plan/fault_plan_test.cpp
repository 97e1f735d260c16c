#include "linkmargin/report/plan/fault_plan.hpp"

#include "linkmargin/yaml/site/site_yaml.hpp"

#include "fixtures/english.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;
using fixture::english;

namespace {

std::string drawn(const std::string& rooms, const std::string& openings = "[]") {
  const std::string text =
      "site: s\nradio: {frequency_mhz: 868}\nconstruction: solid brick\nstoreys:\n"
      "  - name: ground\n    height_m: 2.5\n    rooms: " +
      rooms + "\n    openings: " + openings + "\nhubs: {hub: {in: hall, at: centre}}\n";
  const SiteAttempt attempt = attempt_site(text, "m", embedded_tables());
  REQUIRE_FALSE(attempt.faults.empty());
  return fault_plan_svg(english(), "m", attempt.faults, attempt.site);
}

}  // namespace

TEST_CASE("Faults stand there with line and column, what they are about is red") {
  const std::string rooms =
      "{hall: {rect_m: [0, 0, 3, 3]}, shop: {rect_m: [2, 0, 3, 3]}, store: {rect_m: [5, 0, 2, 3]}}";
  const std::string svg = drawn(rooms);
  CHECK(has(svg, "One fault in m"));
  CHECK(has(svg, "7:"));
  CHECK(has(svg, "overlap"));
  std::size_t red = 0;
  for (std::size_t at = svg.find("fill=\"#b3261e\" fill-opacity"); at != std::string::npos;
       at = svg.find("fill=\"#b3261e\" fill-opacity", at + 1))
    ++red;
  CHECK(red == 2);
}

TEST_CASE("Files that hold no plan give a sheet of faults alone") {
  for (const char* text :
       {"", "site: [", "storeys: 3", "\xFF", "storeys: [{name: a, rooms: {b: {rect_m: [0, 0, 1e9, 1]}}}]"}) {
    CAPTURE(text);
    const SiteAttempt attempt = attempt_site(text, "m", embedded_tables());
    REQUIRE_FALSE(attempt.faults.empty());
    const std::string svg = fault_plan_svg(english(), "m", attempt.faults, attempt.site);
    CHECK(svg.starts_with("<svg"));
    CHECK_FALSE(has(svg, "nan"));
    CHECK_FALSE(has(svg, "inf"));
  }
}

TEST_CASE("The page names the picture safely and needs no network") {
  const std::string page = reload_page(english(), "a<b.yaml", "a/x\"y#.svg");
  CHECK(has(page, "src=\"a/x%22y%23.svg\""));
  CHECK(has(page, "<title>a&lt;b.yaml</title>"));
  CHECK_FALSE(has(page, "http"));
}
