#include "support/language.hpp"

#include "linkmargin/yaml/site/language_yaml.hpp"

#include "support/failure.hpp"
#include "support/input.hpp"

#include <algorithm>
#include <cstdlib>
#include <optional>

namespace linkmargin::cli {
namespace {

const Language& asked_language(const std::string& asked) {
  const auto& known = built_in_languages();
  if (std::ranges::find(known, asked) != known.end()) return built_in_language(asked);
  if (asked.find_first_of("./") == asked.npos) unknown_name("language", asked, known);
  static std::optional<Language> own;  // the option is given once, and a pipe can be read once
  if (!own) {
    auto read = parse_language(read_text(asked), shown_name(asked));
    if (!read) refuse(read.error(), shown_name(asked));
    own = std::move(read.value());
  }
  return *own;
}

}  // namespace

const Language& language_of(const Arguments& arguments) {
  if (const auto asked = arguments.value("language")) return asked_language(*asked);
  return built_in_language(
      language_of_locale({std::getenv("LC_ALL"), std::getenv("LC_MESSAGES"), std::getenv("LANG")}));
}

const Language& language_of(const Arguments& arguments, LengthUnit unit) {
  const Language& language = language_of(arguments);
  if (unit == language.length_unit()) return language;
  static const Language in_unit(language.words(), unit);  // one option, one unit beside metres
  return in_unit;
}

const Language& data_language(const Arguments& arguments) {
  const auto asked = arguments.value("language");
  return asked ? asked_language(*asked) : built_in_language("en");
}

}  // namespace linkmargin::cli
