#include "linkmargin/report/drawing/svg.hpp"

#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

using namespace linkmargin;

TEST_CASE("the width of a name is estimated in every alphabet to some 15 %") {
  // The second: the sum of the advance widths in DejaVu Sans 2.37, read from its table.
  const std::vector<std::pair<std::string, double>> names{
      {"Hallway cupboard", 8.98}, {"Łazienka gościnna", 9.21}, {"Κουζίνα και σαλόνι", 9.56},
      {"ΑΠΟΘΗΚΗ", 5.17},          {"Прихожая", 5.36},          {"Küche und Flur", 7.52}};
  for (const auto& [name, width_em] : names) {
    const auto& name_shown = name;
    CAPTURE(name_shown);
    CHECK(svg::text_width_em(name) >= 0.98 * width_em);
    CHECK(svg::text_width_em(name) <= 1.16 * width_em);
  }
}

TEST_CASE("an accent takes no width, be it part of the letter or a mark after it") {
  CHECK(svg::text_width_em("caf\u00E9") == svg::text_width_em("cafe"));
  CHECK(svg::text_width_em("cafe\u0301") == svg::text_width_em("cafe"));
}
