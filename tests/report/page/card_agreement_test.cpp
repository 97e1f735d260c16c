#include "linkmargin/analysis/review/site_review.hpp"
#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/report/page/page.hpp"
#include "linkmargin/report/words/wording.hpp"
#include "linkmargin/yaml/readings/readings_csv.hpp"
#include "linkmargin/yaml/site/language_yaml.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include "fixtures/served_block.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

using namespace linkmargin;

/// What a page's cards show is what check says.
namespace {

constexpr double kMapCellM = 2;  // maps are not what this is about
constexpr std::uint64_t kSites = 20;

std::string demo_text(const std::string& file) {
  return read_text_file(std::string(LINKMARGIN_DATA) + "/sites/" + file).value();
}

Site demo(const std::string& file) {
  return parse_site(demo_text(file), file, embedded_tables()).value();
}

/// From after one mark to before another.
std::string between(std::string_view text, std::string_view begin, std::string_view end) {
  const std::size_t from = text.find(begin);
  REQUIRE(from != text.npos);
  const std::string_view rest = text.substr(from + begin.size());
  const std::size_t to = rest.find(end);
  REQUIRE(to != rest.npos);
  return std::string(rest.substr(0, to));
}

std::string unescaped(std::string text) {
  for (const auto& [code, letter] : {std::pair{"&lt;", "<"}, std::pair{"&gt;", ">"}}) {
    for (std::size_t at = text.find(code); at != text.npos; at = text.find(code)) text.replace(at, 4, letter);
  }
  return text;
}

std::vector<std::string> cards_of(const std::string& page) {
  std::vector<std::string> cards;
  for (std::size_t at = page.find("<article "); at != page.npos; at = page.find("<article ", at + 1))
    cards.push_back(page.substr(at, page.find("</article>", at) - at));
  return cards;
}

std::string standing_of(Outcome outcome) {
  return outcome == Outcome::weak ? "weak" : outcome == Outcome::doubtful ? "close" : "fine";
}

/// How many cards of each kind were compared.
struct Compared {
  int cards = 0, weak = 0, doubtful = 0, read = 0, by_repeater = 0;
};

void compare(const std::string& card, const LinkTable& table, Compared& compared) {
  const Wording wording(built_in_language("en"));
  const std::string name = between(card, "<bdi>", "</bdi>");
  CAPTURE(name);
  const auto link = std::ranges::find(table.links, name, &Link::device);
  REQUIRE(link != table.links.end());
  const LinkBudget& direction = link->own_hop_weak ? link->lower() : link->weaker();
  const std::string percent = wording.percent(direction.reading_percent, table.reading.weak_below_percent);
  CHECK(between(card, "data-reading=\"", "\"") == percent);
  CHECK(unescaped(between(card, "data-chance=\"", "\"")) == wording.chance_figure(link->pass_probability));
  CHECK(between(card, "class=\"card ", "\"") == standing_of(link->outcome));
  // The same in the sentences that people read.
  CHECK(has(between(card, "class=\"received\">", "</p>"), "<bdi>" + link->heard_by() + "</bdi>") ==
        (!link->via.empty() || table.hubs.size() > 1));
  if (link->read_percent) {
    const std::string read = wording.percent(*link->read_percent, table.reading.weak_below_percent);
    CHECK(has(card, read + "\u00A0% was read where about " + percent + "\u00A0% was expected"));
  } else if (!link->weaker().below_sensitivity()) {
    CHECK(has(card, "about " + percent + "\u00A0%"));
    CHECK(has(card, " is " + wording.chance(link->pass_probability) + ".</p>"));
  }
  ++compared.cards;
  compared.weak += link->outcome == Outcome::weak ? 1 : 0;
  compared.doubtful += link->outcome == Outcome::doubtful ? 1 : 0;
  compared.read += link->read_percent ? 1 : 0;
  compared.by_repeater += link->via.empty() ? 0 : 1;
}

void compare(const Site& site, Doors doors, const std::vector<Reading>& readings, Compared& compared) {
  const LinkTable table = link_table(
      site, {.doors = doors, .readings = readings, .nearby = fitted_shadowing(site, readings, doors)});
  const SiteReview review = site_review(site, {.doors = doors, .readings = readings, .step_m = kMapCellM});
  const std::vector<std::string> cards = cards_of(page_html(site, review, built_in_language("en")));
  CHECK(cards.size() == site.devices.size());
  for (const std::string& card : cards) compare(card, table, compared);
}

}  // namespace

TEST_CASE("the card of each device says the reading, chance and verdict of the link table: demo sites") {
  Compared compared;
  for (const char* file : {"kiln-lane.yaml", "corner-kiosk.yaml"}) {
    const Site site = demo(file);
    for (const Doors doors : {Doors::armed, Doors::open}) compare(site, doors, {}, compared);
  }
  const Site kiln = demo("kiln-lane.yaml");
  compare(kiln, Doors::armed,
          parse_readings(demo_text("kiln-lane-readings.csv"), "readings", kiln).value().readings, compared);
  CHECK(compared.cards == 60);
  CHECK(compared.weak > 0);
  CHECK(compared.doubtful > 0);
  CHECK(compared.read > 5);
  CHECK(compared.by_repeater > 20);
}

TEST_CASE("the card of each device says the reading, chance and verdict of the link table: random sites") {
  Compared compared;
  for (std::uint64_t number = 1; number <= kSites; ++number) {
    CAPTURE(number);
    const std::vector<Reading> readings =
        number % 4 == 0 ? std::vector{fixture::read_of("device 0", 12), fixture::read_of("device 2", 88)}
                        : std::vector<Reading>{};
    compare(fixture::served_block(number), number % 2 == 0 ? Doors::open : Doors::armed, readings, compared);
  }
  CHECK(compared.cards == 80);
  CHECK(compared.weak >= 10);
  CHECK(compared.read == 10);
  CHECK(compared.by_repeater > 3);
}
