#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/analysis/review/site_review.hpp"
#include "linkmargin/c/linkmargin.h"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/check_report.hpp"
#include "linkmargin/report/page/page.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/yaml/readings/readings_csv.hpp"
#include "linkmargin/yaml/site/language_yaml.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

namespace linkmargin {
namespace {

/// An answer of the C interface, taken over and given back.
std::string taken(char* text) {
  std::string copy = text == nullptr ? "" : text;
  lm_free(text);
  return copy;
}

struct OpenedSite {
  lm_site* site = nullptr;
  lm_status status;
  std::string answer;

  explicit OpenedSite(std::string_view text) {
    char* said = nullptr;
    status = lm_open(text.data(), text.size(), "en", &site, &said);
    answer = taken(said);
  }
  OpenedSite(const OpenedSite&) = delete;
  OpenedSite& operator=(const OpenedSite&) = delete;
  ~OpenedSite() { lm_close(site); }
};

lm_status edit(OpenedSite& opened, const std::string& edits, std::string& answer) {
  char* said = nullptr;
  const lm_status status = lm_edit(opened.site, edits.data(), edits.size(), &said);
  answer = taken(said);
  return status;
}

TEST_CASE("a site that is opened is checked as the library checks it, also after an edit") {
  OpenedSite opened(starter_text());
  REQUIRE(opened.status == LM_DONE);
  Site site = *parse_site(starter_text(), "", embedded_tables());
  char* said = nullptr;
  REQUIRE(lm_check(opened.site, LM_DOORS_OPEN, &said) == LM_DONE);
  CHECK(taken(said) == check_json(built_in_language("en"), link_table(site, {.doors = Doors::open})));

  std::string answer;
  REQUIRE(edit(opened, R"({"cases": [{"name": "e", "set": {"/hubs/hub/at_m": [1.25, 2.5]}}]})", answer) ==
          LM_DONE);
  CHECK(answer.find("/hubs/hub/at_m") != std::string::npos);
  site = *edited_site(site, std::vector<Edit>{{"/hubs/hub/at_m", Point2{1.25, 2.5}}});
  REQUIRE(lm_check(opened.site, LM_DOORS_ARMED, &said) == LM_DONE);
  CHECK(taken(said) == check_json(built_in_language("en"), link_table(site)));

  REQUIRE(edit(opened, R"({"cases": [{"name": "e", "set": {"/hubs/hub/at_m": [1.5, 2.5]}}]})", answer) ==
          LM_DONE);
  REQUIRE(edit(opened, R"({"cases": [{"name": "e", "set": {"/hubs/hub/at_m": [1.25, 2.5]}}]})", answer) ==
          LM_DONE);
  REQUIRE(lm_text(opened.site, &said) == LM_DONE);
  const std::string text = taken(said);
  CHECK(text.find("at_m: [1.25, 2.5]") != std::string::npos);
  CHECK(text.find("# of the floor, above the site's zero") != std::string::npos);
  CHECK(*parse_site(text, "", embedded_tables()) == site);
}

TEST_CASE("faults are told by line and column, and what was read is kept") {
  OpenedSite opened("site: One\nstoreys:\n  - {name: ground, level_m: 0, hight_m: 2}\n");
  CHECK(opened.status == LM_FAULTS);
  REQUIRE(opened.site != nullptr);
  CHECK(opened.answer.find("\"line\": 3") != std::string::npos);
  CHECK(opened.answer.find("did you mean 'height_m'") != std::string::npos);
  char* said = nullptr;
  CHECK(lm_check(opened.site, LM_DOORS_ARMED, &said) == LM_FAULTS);
  CHECK(taken(said).find("\"line\": 3") != std::string::npos);
  CHECK(lm_plan(opened.site, &said) == LM_DONE);
  CHECK(taken(said).find("FeatureCollection") != std::string::npos);

  OpenedSite broken("site: [");
  CHECK(broken.status == LM_FAULTS);
}

TEST_CASE("figures are those of the check, link by link and area by area") {
  using Json = nlohmann::json;
  const auto text = read_text_file(LINKMARGIN_DATA "/sites/kiln-lane.yaml");
  REQUIRE(text);
  OpenedSite opened(*text);
  REQUIRE(opened.status == LM_DONE);
  const Json said_of_areas = Json::parse(opened.answer)["areas"];
  REQUIRE(said_of_areas.size() == 1);
  CHECK(said_of_areas[0]["storey"] == "ground");
  CHECK(said_of_areas[0]["corners_m"].size() == 4);
  char* said = nullptr;
  for (const lm_doors doors : {LM_DOORS_ARMED, LM_DOORS_OPEN}) {
    REQUIRE(lm_check(opened.site, doors, &said) == LM_DONE);
    const Json whole = Json::parse(taken(said));
    REQUIRE(lm_figures(opened.site, doors, &said) == LM_DONE);
    const Json figures = Json::parse(taken(said));
    REQUIRE(whole["links"].size() == figures["links"].size());
    REQUIRE(whole["areas"].size() == figures["areas"].size());
    for (const char* list : {"links", "areas"}) {
      for (std::size_t i = 0; i < figures[list].size(); ++i) {
        for (const auto& [key, value] : figures[list][i].items()) CHECK(whole[list][i][key] == value);
      }
    }
    for (const char* key : {"doors", "weak_below_percent"}) CHECK(whole[key] == figures[key]);
  }
}

TEST_CASE("what cannot be is refused and changes nothing") {
  lm_site* none = nullptr;
  char* said = nullptr;
  CHECK(lm_open("site: a", 7, "xx", &none, &said) == LM_REFUSED);
  CHECK(none == nullptr);
  CHECK(taken(said).find("xx") != std::string::npos);

  OpenedSite opened(starter_text());
  REQUIRE(lm_check(opened.site, LM_DOORS_ARMED, &said) == LM_DONE);
  const std::string before = taken(said);
  std::string answer;
  CHECK(edit(opened,
             R"({"cases": [{"name": "e", "set": {"/hubs/hub/at_m": [1, 1], "/hubs/hub/hight_m": 1}}]})",
             answer) == LM_FAULTS);
  CHECK(lm_explain(opened.site, LM_DOORS_ARMED, "nobody", &said) == LM_REFUSED);
  CHECK(taken(said).find("nobody") != std::string::npos);
  CHECK(lm_place_step(opened.site, LM_DOORS_ARMED, 1, 99, &said) == LM_REFUSED);
  lm_free(said);
  REQUIRE(lm_check(opened.site, LM_DOORS_ARMED, &said) == LM_DONE);
  CHECK(taken(said) == before);
}

TEST_CASE("rows of a map are those of the whole map") {
  OpenedSite opened(starter_text());
  const Site site = *parse_site(starter_text(), "", embedded_tables());
  const CoverageMap whole = coverage(site, {.storey = "ground", .step_m = 0.5, .chances = false});
  const auto columns = static_cast<std::size_t>(whole.columns);
  std::vector<float> cells(3 * columns, -1);
  char* said = nullptr;
  REQUIRE(lm_map(opened.site, LM_DOORS_ARMED, "ground", 0.5, 4, 3, cells.data(), cells.size(), &said) ==
          LM_DONE);
  CHECK(taken(said).find("\"columns\": " + std::to_string(columns)) != std::string::npos);
  for (std::size_t cell = 0; cell < cells.size(); ++cell)
    CHECK(cells[cell] == static_cast<float>(value_at(whole, 4 * columns + cell, CoverageValue::reading)));
  CHECK(lm_map(opened.site, LM_DOORS_ARMED, "ground", 0.5, 4, 3, cells.data(), 2, &said) == LM_TOO_SMALL);
  lm_free(said);
  CHECK(lm_map(opened.site, LM_DOORS_ARMED, "ground", 0.5, whole.rows, 1, cells.data(), cells.size(),
               &said) == LM_REFUSED);
  lm_free(said);
  CHECK(lm_map(opened.site, LM_DOORS_ARMED, "cellar", 0.5, 0, 1, cells.data(), cells.size(), &said) ==
        LM_REFUSED);
  lm_free(said);
}

TEST_CASE("readings change what is predicted, until they are taken back") {
  OpenedSite opened(starter_text());
  char* said = nullptr;
  REQUIRE(lm_check(opened.site, LM_DOORS_ARMED, &said) == LM_DONE);
  const std::string before = taken(said);
  const std::string csv = "device,percent\nhall motion,12\n";
  REQUIRE(lm_read(opened.site, csv.data(), csv.size(), &said) == LM_DONE);
  CHECK(taken(said).find("\"readings\": 1") != std::string::npos);
  REQUIRE(lm_check(opened.site, LM_DOORS_ARMED, &said) == LM_DONE);
  CHECK(taken(said) != before);
  CHECK(lm_read(opened.site, "device,percent\nhall moton,12\n", 29, &said) == LM_FAULTS);
  CHECK(taken(said).find("hall motion") != std::string::npos);
  REQUIRE(lm_read(opened.site, nullptr, 0, &said) == LM_DONE);
  lm_free(said);
  REQUIRE(lm_check(opened.site, LM_DOORS_ARMED, &said) == LM_DONE);
  CHECK(taken(said) == before);
}

TEST_CASE("a step of the search for a place answers as `place` does") {
  OpenedSite opened(starter_text());
  char* said = nullptr;
  REQUIRE(lm_place_step(opened.site, LM_DOORS_ARMED, 1, 1, &said) == LM_DONE);
  const std::string answer = taken(said);
  CHECK(answer.find("\"choices\"") != std::string::npos);
  REQUIRE(lm_explain(opened.site, LM_DOORS_ARMED, "garage door contact", &said) == LM_DONE);
  CHECK(taken(said).find("\"text\"") != std::string::npos);
}

TEST_CASE("the report is the page of the site with its edits and readings, in the site's unit of length") {
  OpenedSite opened("units: {length: ft}\n" + std::string(starter_text()));
  REQUIRE(opened.status == LM_DONE);
  std::string answer;
  REQUIRE(edit(opened, R"({"cases": [{"name": "e", "set": {"/hubs/hub/at_m": [1.25, 2.5]}}]})", answer) ==
          LM_DONE);
  const std::string csv = "device,percent\nhall motion,12\n";
  char* said = nullptr;
  REQUIRE(lm_read(opened.site, csv.data(), csv.size(), &said) == LM_DONE);
  lm_free(said);
  std::vector<double> shares;
  const lm_progress progress = [](void* told, double share) {
    static_cast<std::vector<double>*>(told)->push_back(share);
  };
  REQUIRE(lm_report(opened.site, LM_DOORS_OPEN, "2026-11-26", progress, &shares, &said) == LM_DONE);
  const std::string page = taken(said);

  const std::size_t begin = page.find("with linkmargin ") + 16;
  const std::string version = page.substr(begin, page.find(' ', begin) - begin);
  CHECK(version.size() >= 5);
  const Site site =
      *edited_site(*parse_site("units: {length: ft}\n" + std::string(starter_text()), "", embedded_tables()),
                   std::vector<Edit>{{"/hubs/hub/at_m", Point2{1.25, 2.5}}});
  const SiteReview review = site_review(
      site,
      {.doors = Doors::open, .readings = parse_readings(csv, "", site)->readings, .place_trials = true});
  const Language language(built_in_language("en").words(), LengthUnit::foot);
  CHECK(page == page_html(site, review, language, {.date = "2026-11-26", .version = version}));
  CHECK(page.find("<!DOCTYPE html>") == 0);
  REQUIRE(shares.size() > 3);
  CHECK(std::ranges::is_sorted(shares));
  CHECK(shares.back() == 1);

  OpenedSite empty("site: One\n");
  CHECK(lm_report(empty.site, LM_DOORS_ARMED, "2026-11-26", nullptr, nullptr, &said) == LM_FAULTS);
  CHECK(taken(said).find("faults") != std::string::npos);
}

}  // namespace
}  // namespace linkmargin
