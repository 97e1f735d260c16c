#include "ask.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/material/metal_proximity.hpp"
#include "linkmargin/propagation/material/slab_loss.hpp"

#include "fixtures/electrical_table.hpp"
#include "sections.hpp"

#include <cmath>
#include <istream>
#include <ostream>
#include <stdexcept>
#include <string>
#include <vector>

namespace linkmargin::validation {
namespace {

std::vector<std::string> fields(const std::string& line) {
  std::vector<std::string> result{""};
  for (const char letter : line) {
    if (letter == '\t') {
      result.emplace_back();
    } else {
      result.back() += letter;
    }
  }
  return result;
}

double number(const std::string& text) {
  const auto value = parse_number(text);
  if (!value) throw std::runtime_error(text + " is no number");
  return *value;
}

double slab_gain_db(const std::vector<std::string>& asked) {
  const double frequency_hz = number(asked[2]);
  const auto layers = linkmargin::testing::ElectricalTable().layers("P.2040-3", asked[1], frequency_hz);
  return -slab_loss_db(layers, frequency_hz, std::cos(number(asked[3]) * kPi / 180),
                       asked[4] == "tm" ? Polarisation::tm : Polarisation::te);
}

double answer_db(const std::vector<std::string>& asked) {
  if (asked[0] == "slab" && asked.size() == 5) return slab_gain_db(asked);
  if (asked[0] == "square" && asked.size() == 4) {
    return doorway_square_db(asked[1], {number(asked[2]), number(asked[3])});
  }
  if (asked[0] == "metal" && asked.size() == 2) {
    return metal_proximity_loss_db(MetalCurve::front_of_sheet, number(asked[1]));
  }
  throw std::runtime_error("not a question: " + asked[0]);
}

}  // namespace

void answer(std::istream& questions, std::ostream& answers) {
  std::string line;
  while (std::getline(questions, line)) answers << fixed_text(answer_db(fields(line)), 6) << "\n";
}

}  // namespace linkmargin::validation
