#pragma once

#include <optional>
#include <string>

namespace linkmargin::validation {

/// docs/validation.md as a whole.
struct Document {
  std::string text;
  bool kept = true;             ///< every limit is kept
  bool with_data_sets = false;  ///< false: LINKMARGIN_DATASETS names none, and their part only says so
};

Document document();

/// The part about the data sets, with the marks round it; empty when a text has none.
std::string data_set_part(const std::string& text);

/// `text` with its part about the data sets taken from `source`, when both have one.
std::string with_data_set_part_of(const std::string& text, const std::string& source);

}  // namespace linkmargin::validation
