#include "linkmargin/report/page/page.hpp"

#include "linkmargin/prediction/single_failures.hpp"
#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/page/loss_waterfall.hpp"
#include "linkmargin/report/page/page_model.hpp"
#include "linkmargin/report/page/plan.hpp"
#include "linkmargin/report/page/words.hpp"
#include "linkmargin/report/words/failure_words.hpp"
#include "linkmargin/yaml/readings/readings_csv.hpp"
#include "linkmargin/yaml/site/language_yaml.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"
#include "linkmargin/yaml/what_if/cases_yaml.hpp"

#include "fixtures/site_fixture.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

std::string text_of(const std::string& file) {
  return read_text_file(std::string(LINKMARGIN_DATA) + "/sites/" + file).value();
}

Site demo() {
  return parse_site(text_of("kiln-lane.yaml"), "kiln-lane.yaml", embedded_tables()).value();
}

constexpr double kCoarseM = 1;  // maps are not what these tests are about

}  // namespace

TEST_CASE("the steps of a fall lead from what the distance leaves to the reading, each by its loss") {
  Site site = demo();
  for (const Doors doors : {Doors::armed, Doors::open}) {
    const SiteReview review = site_review(site, {.doors = doors, .step_m = kCoarseM});
    const PageOptions options;
    const page::PageModel content(site, review, built_in_language("en"), options);
    REQUIRE(content.entries().size() == 18);
    for (const page::DevicePage& entry : content.entries()) {
      CAPTURE(entry.device->name);
      const auto steps = page::fall(content, entry);
      REQUIRE(steps.size() >= 2);
      CHECK(steps.front().kind == page::FallStep::Kind::distance);
      double now = steps.front().to_percent;
      std::size_t number = 0;
      for (auto step = steps.begin() + 1; step + 1 != steps.end(); ++step) {
        CHECK(step->from_percent == now);
        CHECK(step->from_percent - step->to_percent ==
              doctest::Approx(step->loss_db * 100 / 60).epsilon(1e-9));
        now = step->to_percent;
        if (step->number == 0) continue;
        CHECK(step->number == ++number);
        CHECK(step->loss_db >= kSmallDb);
        CHECK(step->at.has_value());
      }
      CHECK(std::abs(now - steps.back().to_percent) < 1e-9);
      const LinkBudget& way = entry.link->weaker();
      CHECK(std::abs(steps.back().to_percent - 100 * (way.level.value + 105) / 60) < 1e-9);
      // Without what is in the way, the level is the power less the distance alone and the antennas'.
      double distance_db = 0;
      for (const LossItem& item : entry.link->loss.items)
        distance_db += is_of_distance(item.cause) ? item.loss_db : 0;
      double budget_db = 0;
      for (const BudgetItem& item : way.items) {
        const bool radios = item.term == BudgetTerm::transmitted ||
                            item.term == BudgetTerm::receive_antenna || item.term == BudgetTerm::learned ||
                            item.term == BudgetTerm::nearby_readings;
        if (radios) budget_db += item.value_db;
      }
      CHECK(std::abs(steps.front().to_percent - 100 * (budget_db - distance_db + 105) / 60) < 1e-9);
    }
  }
}

TEST_CASE("devices stand the weakest first, and what was read counts before what is predicted") {
  Site site = demo();
  std::vector<Reading> readings{fixture::read_of("shop motion", 12),
                                fixture::read_of("clay shed contact", 80)};
  const SiteReview review = site_review(site, {.readings = readings, .step_m = kCoarseM});
  const PageOptions options;
  const page::PageModel content(site, review, built_in_language("en"), options);
  CHECK(content.entries().front().device->name == "shop motion");
  CHECK(content.entries().front().standing == page::Standing::weak);
  CHECK(content.entries().front().number == 1);
  CHECK(content.entry("clay shed contact").standing == page::Standing::fine);
  for (std::size_t i = 1; i < content.entries().size(); ++i)
    CHECK(content.entries()[i - 1].standing <= content.entries()[i].standing);
  CHECK(page::reading_words(content, content.entries().front())->find("12 % was read") != std::string::npos);
  CHECK(page::standing(content) == page::Standing::weak);
}

TEST_CASE("figures are never said more surely than they are") {
  Site site = fixture::two_rooms();
  const SiteReview review = site_review(site, {.step_m = kCoarseM});
  const PageOptions options;
  const page::PageModel content(site, review, built_in_language("en"), options);
  CHECK(content.percent_text(39.7) == "39");  // never on the other side of the threshold
  CHECK(content.percent_text(40.2) == "40");
  const Language& english = built_in_language("en");
  CHECK(content.chance_text(0.9999) == english.say("chance.most"));
  CHECK(content.chance_text(0.001) == english.say("chance.least"));
  CHECK(content.chance_text(0.34) == english.say("chance.about", {{"count", "34"}}));
  CHECK(content.chance_text(0.93) == english.say("chance.about", {{"count", "93"}}));
  CHECK(content.length_text(0.087) == "9\u00A0cm");
  CHECK(content.length_text(2.34) == "2.3\u00A0m");
}

TEST_CASE("a page is whole by itself, the same whatever the threads, and has a card for each device") {
  const Site site = demo();
  const PageOptions options{.date = "2026-01-02", .version = "9.9"};
  const auto page_of = [&](int threads) {
    return page_html(site, site_review(site, {.step_m = 0.5, .threads = threads}), built_in_language("en"),
                     options);
  };
  const std::string page = page_of(1);
  CHECK(page == page_of(3));
  CHECK(page.starts_with("<!DOCTYPE html>\n<html lang=\"en\">"));
  CHECK(count(page, "<article ") == 18);
  CHECK(count(page, "<figure class=\"map\"") == 8);  // two storeys, doors closed and open, reading and chance
  CHECK(page.find("2026-01-02") != page.npos);
  CHECK(page.find("linkmargin 9.9") != page.npos);
  for (const char* outside : {"http:", "https:", "src=\"//", "@import", "<link"}) {
    CAPTURE(outside);
    CHECK(page.find(outside) == page.npos);
  }
  CHECK(page.find("dBm</td>") == page.npos);  // a customer sees no budget
  CHECK(page_html(site, site_review(site, {.step_m = 0.5}), built_in_language("en"),
                  {.reader = Reader::file, .date = "2026-01-02", .version = "9.9"})
            .find("dBm</td>") != std::string::npos);
}

TEST_CASE("cases, a site before and readings have their parts") {
  const Site site = demo();
  ReviewOptions options{.step_m = kCoarseM};
  options.cases = {{"hub moved", {{"/hubs/hub/at_m", Point2{0.6, 2}}}}};
  options.before = edited_site(site, std::vector<Edit>{{"/hubs/hub/at_m", Point2{5, 1}}}).value();
  options.readings = parse_readings(text_of("kiln-lane-readings.csv"), "r", site).value().readings;
  const std::string page = page_html(site, site_review(site, options), built_in_language("de"), {});
  for (const char* id : {"id=\"cases\"", "id=\"before\"", "id=\"readings\"", "id=\"notes\"", "id=\"todo\""}) {
    CAPTURE(id);
    CHECK(page.find(id) != page.npos);
  }
  CHECK(page.find("<bdi>hub moved</bdi>") != page.npos);
  const std::string bare =
      page_html(site, site_review(site, {.step_m = kCoarseM}), built_in_language("de"), {});
  for (const char* id : {"id=\"cases\"", "id=\"before\"", "id=\"readings\""})
    CHECK(bare.find(id) == bare.npos);
}

TEST_CASE("a device that was read is told of by its reading, not by a chance that the reading has spoilt") {
  const Site site = demo();
  const SiteReview review =
      site_review(site, {.readings = {fixture::read_of("loft smoke", 31)}, .step_m = kCoarseM});
  const PageOptions options;
  const page::PageModel content(site, review, built_in_language("en"), options);
  const page::DevicePage& smoke = content.entry("loft smoke");
  CHECK(page::reading_words(content, smoke)->starts_with("31 % was read"));
  CHECK(page::other_spot_words(content, smoke).starts_with("Another spot nearby should read"));
  CHECK(page::other_spot_words(content, content.entry("shop motion")).empty());
  CHECK_FALSE(page::reading_words(content, content.entry("shop motion")).has_value());
  CHECK(page::verdict(content).find("2 of 18 devices are weak") != std::string::npos);
}

TEST_CASE("in another language only sources stay English on the demo's page") {
  const Site site = demo();
  const std::string page = page_html(site, site_review(site, {.step_m = kCoarseM}), built_in_language("de"),
                                     {.reader = Reader::file});
  CHECK(count(page, "lang=\"en\"") > 10);
  CHECK(count(page, "<td lang=\"en\"") == count(page, "lang=\"en\""));
  for (const char* english :
       {"wall between", "outer wall of", "floor of", " at the hub", "echoes", "should be"}) {
    CAPTURE(std::string(english));
    CHECK(page.find(english) == page.npos);
  }
}

TEST_CASE("a model that counts no walls says so before anything is called well") {
  Site site = fixture::two_rooms();
  site.radio.model = PathLossModel::free_space;
  const SiteReview review = site_review(site, {.step_m = kCoarseM});
  const PageOptions options;
  const page::PageModel content(site, review, built_in_language("en"), options);
  CHECK(page::verdict(content).find(built_in_language("en").say("verdict.no_walls")) != std::string::npos);
  CHECK(page::standing(content) == page::Standing::close);
  CHECK(page::cause_words(content, content.entries().front())
            .find(built_in_language("en").say(
                "cause.not_itemised",
                {{"distance", content.length_text(content.entries().front().link->loss.distance_m)},
                 {"hub", content.hub_text(content.entries().front().link->hub)}})) != std::string::npos);
}

TEST_CASE("what is lost if one station fails stands on the page in the words of check, where there are two") {
  const Site site = demo();
  const SiteReview review = site_review(site, {.single_failures = true, .step_m = kCoarseM});
  const LinkTable table = link_table(site, {});
  const std::vector<SingleFailure> failures = single_failures(site, {}, table);
  REQUIRE(failures.size() == 2);
  for (const char* tag : {"en", "de"}) {
    const Language& language = built_in_language(tag);
    const std::string page = page_html(site, review, language, {.reader = Reader::file});
    const std::size_t begin = page.find("id=\"failures\"");
    REQUIRE(begin != page.npos);
    const std::string section = page.substr(begin, page.find("</section>", begin) - begin);
    CHECK(count(section, "<li>") == 2);
    for (const BulletList::Item& item : failure_list(Wording(language, page::kPageText), failures).items) {
      html::Writer expected;
      expected.text(item.text);
      CHECK(section.find(expected.take()) != section.npos);
    }
  }
  const SiteReview unasked = site_review(site, {.step_m = kCoarseM});
  CHECK(page_html(site, unasked, built_in_language("en"), {}).find("id=\"failures\"") == std::string::npos);
  const Site alone = fixture::two_rooms();
  const SiteReview one = site_review(alone, {.single_failures = true, .step_m = kCoarseM});
  CHECK(one.states.front().table.failures.empty());
}

TEST_CASE("each card says what hears its device, and small plans draw every hop") {
  Site site = fixture::two_rooms();
  site.hops = 2;
  site.repeaters = {
      {.name = "far relay", .profile = "hub", .place = {0, {6, 1}, 1.5}, .hub = {}, .via = "near relay"},
      {.name = "near relay", .profile = "hub", .place = {0, {3, 3}, 1.5}, .hub = "hub"}};
  const Device pattern = site.devices.front();
  site.devices = {pattern, pattern, pattern};
  const char* vias[] = {"far relay", "near relay", kDirect};
  for (std::size_t i = 0; i < 3; ++i) {
    site.devices[i].name = "device " + std::to_string(i);
    site.devices[i].via = vias[i];
  }
  const SiteReview review = site_review(site, {.step_m = kCoarseM});
  const std::string page = page_html(site, review, built_in_language("en"), {.reader = Reader::file});
  const std::string received[] = {"<bdi>far relay</bdi>, then <bdi>near relay</bdi>, then the hub.",
                                  "<bdi>near relay</bdi>, then the hub.", "the hub."};
  for (std::size_t i = 0; i < 3; ++i) {
    CAPTURE(i);
    const std::size_t name = page.find("<bdi>device " + std::to_string(i) + "</bdi>", page.find("<article "));
    const std::size_t begin = page.rfind("<article ", name);
    const std::string card = page.substr(begin, page.find("</article>", name) - begin);
    CHECK(card.find("<p class=\"received\">Received by " + received[i]) != card.npos);
    CHECK(count(card, "From <bdi>near relay</bdi> to the hub about") == (i < 2 ? 1 : 0));
    CHECK(count(card, std::string("stroke-dasharray=\"") + page::kOnwardDashes + "\"") == 2 - i);
    CHECK(count(card, "Dashed: from") == (i < 2 ? 1 : 0));
    CHECK(count(card, ">near relay</text>") == (i < 2 ? 1 : 0));
    CHECK(count(card, ">far relay</text>") == (i < 1 ? 1 : 0));
    CHECK(count(card, ">hub</text>") == 1);
  }
  CHECK(page.find(built_in_language("en").say("check.key.by_repeater")) != page.npos);
  const std::string german = page_html(site, review, built_in_language("de"), {});
  CHECK(german.find("Empfangen von <bdi>near relay</bdi>, dann der Zentrale.") != german.npos);
}

TEST_CASE("a site without devices has a page too") {
  Site site = fixture::two_rooms();
  site.devices.clear();
  const std::string page =
      page_html(site, site_review(site, {.step_m = kCoarseM}), built_in_language("en"), {});
  CHECK(page.find(built_in_language("en").say("verdict.none")) != page.npos);
}
