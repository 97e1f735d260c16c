#include "linkmargin/base/length_unit.hpp"

#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/base/number_text.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linkmargin {
namespace {

struct WrittenUnit {
  std::string_view word;
  double metres;
};
constexpr WrittenUnit kWrittenUnits[] = {{"m", 1},
                                         {"metre", 1},
                                         {"metres", 1},
                                         {"meter", 1},
                                         {"meters", 1},
                                         {"dm", 0.1},
                                         {"cm", 0.01},
                                         {"mm", 0.001},
                                         {"km", 1000},
                                         {"'", kMetresAFoot},
                                         {"ft", kMetresAFoot},
                                         {"ft.", kMetresAFoot},
                                         {"foot", kMetresAFoot},
                                         {"feet", kMetresAFoot},
                                         {"\"", kMetresAnInch},
                                         {"''", kMetresAnInch},
                                         {"in", kMetresAnInch},
                                         {"in.", kMetresAnInch},
                                         {"inch", kMetresAnInch},
                                         {"inches", kMetresAnInch},
                                         {"zoll", kMetresAnInch}};

/// Marks that typesetting puts for those of a keyboard.
constexpr std::pair<std::string_view, std::string_view> kMarks[] = {
    {"′", "'"},    {"’", "'"},    {"″", "\""},   {"”", "\""},   {"½", " 1/2"}, {"¼", " 1/4"},
    {"¾", " 3/4"}, {"⅛", " 1/8"}, {"⅜", " 3/8"}, {"⅝", " 5/8"}, {"⅞", " 7/8"}};

std::string with_plain_marks(std::string_view text) {
  std::string plain = lower_case(text);
  for (const auto& [mark, keyboard] : kMarks) {
    for (auto at = plain.find(mark); at != plain.npos; at = plain.find(mark, at + keyboard.size()))
      plain.replace(at, mark.size(), keyboard);
  }
  return plain;
}

class LengthReader {
 public:
  explicit LengthReader(std::string_view text) : rest_(text) {}

  std::optional<double> read() {
    skip_blanks();
    const bool negative = take('-');
    if (!negative) (void)take('+');
    double sum_m = 0;
    double last_m = 0;  // of the unit before
    do {
      const auto number = take_number();
      if (!number) return {};
      skip_blanks();
      const auto unit_m =
          rest_.empty() && last_m == kMetresAFoot ? std::optional(kMetresAnInch) : take_unit();
      if (!unit_m || (last_m != 0 && (*unit_m >= last_m || is_foot(*unit_m) != is_foot(last_m)))) return {};
      sum_m += *number * *unit_m;
      last_m = *unit_m;
      skip_blanks();
    } while (!rest_.empty());
    return negative ? -sum_m : sum_m;
  }

 private:
  static bool is_foot(double unit_m) { return unit_m == kMetresAFoot || unit_m == kMetresAnInch; }

  void skip_blanks() { rest_.remove_prefix(std::min(rest_.find_first_not_of(' '), rest_.size())); }

  bool take(char sign) {
    if (!rest_.starts_with(sign)) return false;
    rest_.remove_prefix(1);
    return true;
  }

  std::string_view take_of(std::string_view characters) {
    const std::string_view taken = rest_.substr(0, rest_.find_first_not_of(characters));
    rest_.remove_prefix(taken.size());
    return taken;
  }

  /// "7", "7.5", "1/2" or "6 1/2".
  std::optional<double> take_number() {
    const auto number = parse_number(take_of("0123456789."));
    if (!number) return {};
    if (take('/')) return over(*number);
    const std::string_view before = rest_;
    skip_blanks();
    const auto part = parse_number(take_of("0123456789"));
    if (part && take('/')) {
      const auto fraction = over(*part);
      return fraction ? std::optional(*number + *fraction) : std::nullopt;
    }
    rest_ = before;
    return number;
  }

  std::optional<double> over(double part) {
    const auto whole = parse_number(take_of("0123456789"));
    return whole && *whole > 0 ? std::optional(part / *whole) : std::nullopt;
  }

  std::optional<double> take_unit() {
    const std::string_view word = rest_.substr(0, rest_.find_first_of(" 0123456789"));
    const auto* unit = std::ranges::find(kWrittenUnits, word, &WrittenUnit::word);
    if (unit == std::end(kWrittenUnits)) return {};
    rest_.remove_prefix(word.size());
    return unit->metres;
  }

  std::string_view rest_;
};

}  // namespace

std::optional<double> parse_length_m(std::string_view text) {
  return LengthReader(with_plain_marks(text)).read();
}

std::string feet_text(double length_m, int parts_of_inch) {
  constexpr std::string_view eighths[] = {"", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"};
  constexpr long long inches_a_foot = 12;
  const auto parts = std::llround(std::abs(length_m) / kMetresAnInch * parts_of_inch);
  const long long inches = parts / parts_of_inch;
  const long long odd = inches % inches_a_foot;
  const std::string_view fraction = eighths[parts % parts_of_inch * (8 / parts_of_inch)];
  std::string text = length_m < 0 && parts > 0 ? "-" : "";
  if (inches >= inches_a_foot) text += std::to_string(inches / inches_a_foot) + "'";
  const bool whole_feet = inches >= inches_a_foot && odd == 0 && fraction.empty();
  if (whole_feet) return text;
  if (odd > 0 || fraction.empty()) text += std::to_string(odd);
  return text + std::string(fraction) + "\"";
}

std::string length_text(double length_m, LengthUnit unit) {
  constexpr int eighths = 8;
  return unit == LengthUnit::foot ? feet_text(length_m, eighths) : fixed_text(length_m, 2) + " m";
}

}  // namespace linkmargin
