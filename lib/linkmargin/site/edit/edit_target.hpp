#pragma once

#include "linkmargin/site/edit/edit_context.hpp"

#include <span>
#include <string>
#include <string_view>
#include <vector>

/// Where in a site an edit may go: one row a noun. Not installed.
namespace linkmargin::edits {

struct EditTarget {
  std::vector<std::string_view> pattern;  ///< the names that lead to the noun; "*" is any
  void (*set)(const EditContext&);     ///< sets the last name of the path in the noun that the others lead to
  std::vector<std::string> (*keys)();  ///< of the noun
};

std::span<const EditTarget> places();

/// Each makes an edit whose value is of that kind.
void add_radio(const EditContext& task);
void add_device(const EditContext& task);
void add_obstacle(const EditContext& task);
void remove(const EditContext& task);

/// Sets the calibration of an edit whose value is one.
void set_calibration(const EditContext& task);

}  // namespace linkmargin::edits
