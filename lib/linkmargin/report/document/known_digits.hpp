#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace linkmargin {

/// How many digits of a figure say something, by the key that programs find it under.
struct KnownDigits {
  int decimals = 12;    ///< more than any measurement has
  bool chance = false;  ///< 0 to 1; what is not sure is not rounded up to it (kSureProbability)
};

/// By the end of a key, its unit: readings and shares to 1 %, levels and losses to 0.1 dB, chances to 0.01,
/// distances to 1 cm, places to 0.1 mm as site files hold them; what has no such end has all its digits.
KnownDigits known_digits(std::string_view key);

/// A figure with those digits. @param threshold  a percentage is not rounded over to the other side of it
std::string known_text(double value, const KnownDigits& digits, std::optional<double> threshold = {});

/// fixed_text() without the zeros at its end.
std::string short_text(double value, int most_decimals);

}  // namespace linkmargin
