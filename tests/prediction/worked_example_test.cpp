// docs/worked-example.md derives one link by hand. Every figure in its tables is compared with the program
// here.
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/site/tables.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <map>
#include <sstream>
#include <string>

using namespace linkmargin;

namespace {

/// A figure as printed: its value, and half of its last digit.
struct Printed {
  double value;
  double tolerance;
};

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(' ');
  if (first == std::string::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

std::map<std::string, Printed> printed_figures(const std::string& file) {
  std::map<std::string, Printed> figures;
  std::ifstream page(file);
  for (std::string line; std::getline(page, line);) {
    if (!line.starts_with("| ") || line.starts_with("| figure")) continue;
    std::istringstream cells(line.substr(1));
    std::string name, derivation, value;
    std::getline(cells, name, '|');
    std::getline(cells, derivation, '|');
    std::getline(cells, value, '|');
    value = trimmed(value);
    const auto number = parse_number(value);
    REQUIRE(number);
    const auto decimals = value.size() - value.find('.') - 1;
    figures[trimmed(name)] = {*number, 0.5000001 * std::pow(10, -static_cast<double>(decimals))};
  }
  return figures;
}

}  // namespace

TEST_CASE("every figure of the worked example is the program's") {
  const std::string file = LINKMARGIN_DATA "/sites/corner-kiosk.yaml";
  const auto text = read_text_file(file);
  REQUIRE(text);
  const auto site = parse_site(*text, file, embedded_tables());
  REQUIRE(site);
  const LinkTable table = link_table(*site);
  const Link& link = table.links[0];
  REQUIRE(link.device == "parcel locker");
  REQUIRE(link.loss.items.size() == 3);
  CHECK(link.loss.items[1].material == "stone");
  CHECK(link.loss.items[2].material == "brick 0.1 m");
  CHECK(link.weaker_is_downlink);
  CHECK_FALSE(link.weak);

  const std::map<std::string, double> computed{
      {"distance_m", link.loss.distance_m},
      {"distance_loss_db", link.loss.items[0].loss_db},
      {"brick_loss_db", link.loss.items[2].loss_db},
      {"stone_loss_db", link.loss.items[1].loss_db},
      {"path_loss_db", link.loss.path_loss_db},
      {"up_level_dbm", link.uplink.level.value},
      {"up_margin_db", link.uplink.margin.value},
      {"down_level_dbm", link.downlink->level.value},
      {"down_margin_db", link.downlink->margin.value},
      {"reading_percent", link.weaker().reading_percent},
      {"sigma_db", link.loss.sigma_db},
      {"pass_probability", link.pass_probability},
  };
  const auto printed = printed_figures(LINKMARGIN_TEST_DATA "/../docs/worked-example.md");
  CHECK(printed.size() == computed.size());
  for (const auto& [name, value] : computed) {
    const auto& name_shown = name;
    CAPTURE(name_shown);
    REQUIRE(printed.contains(name));
    CHECK(std::abs(value - printed.at(name).value) <= printed.at(name).tolerance);
  }
}
