#include "linkmargin/report/visit/visit_report.hpp"

#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/document/write_text.hpp"
#include "linkmargin/yaml/site/language_yaml.hpp"

#include "fixtures/served_block.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>
#include <string>

using namespace linkmargin;

namespace {

/// A served block of which about half is short, whose devices may be moved.
Site short_block(std::uint64_t number) {
  Site site = fixture::served_block(number);
  site.reading.zero = Dbm{-85};
  site.reading.full = Dbm{-25};
  site.reading.weak_below_percent = 70;
  for (Device& device : site.devices) device.may_move = Mobility{Mobility::Radius{0.5}};
  return site;
}

}  // namespace

TEST_CASE("every stop says where it is and when it is done, in lines for a telephone") {
  std::size_t stops = 0;
  for (std::uint64_t number = 1; number <= 60; ++number) {
    CAPTURE(number);
    const Site site = short_block(number);
    const VisitPlan plan = visit_plan(site, {});
    for (const std::string tag : {"en", "de"}) {
      const Language& language = built_in_language(tag);
      const std::string text = write_text(visit_document(language, site, plan), {.width = kVisitTextWidth});
      std::istringstream lines(text);
      for (std::string line; std::getline(lines, line);) {
        const auto columns = std::ranges::count_if(line, [](char c) { return (c & 0xC0) != 0x80; });
        CHECK(columns <= kVisitTextWidth);
      }
      for (std::size_t stop = 1; stop <= plan.stops.size(); ++stop)
        CHECK(count(text, "\n" + std::to_string(stop) + ". ") == 1);
    }
    for (const Row& row : visit_rows(built_in_language("en"), site, plan).rows) {
      const std::string text = std::get<std::string>(row.cells.back().value);
      const bool ends = text.find("Done when") != std::string::npos ||
                        text.find("Fix it ") != std::string::npos ||
                        text.find("It ends here") != std::string::npos ||
                        text.find("the stop is done") != std::string::npos;
      CHECK_MESSAGE(ends, text);
      ++stops;
    }
  }
  CHECK(stops > 60);
}

TEST_CASE("where there is nothing to do the answer begins with that, and has no stops") {
  Site site = fixture::two_rooms();
  site.reading.weak_below_percent = 5;
  const VisitPlan plan = visit_plan(site, {});
  const std::string text = write_text(visit_document(built_in_language("en"), site, plan), {});
  std::istringstream lines(text);
  std::string first, second;
  std::getline(lines, first);
  std::getline(lines, second);
  CHECK(second.starts_with("Nothing to do."));
  CHECK(text.find("\n1. ") == std::string::npos);
  CHECK(visit_rows(built_in_language("en"), site, plan).rows.empty());
}
