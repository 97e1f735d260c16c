#pragma once

#include <string>
#include <vector>

namespace linkmargin::validation {

/// A page of the document, by its place below docs/: "validation/flat.md".
struct Page {
  std::string file_name;
  std::string text;
};

/// docs/validation.md, which sums up and leads to the others, and a page for each kind of check and each data
/// set.
struct Document {
  std::vector<Page> pages;
  bool kept = true;             ///< every limit is kept
  bool with_data_sets = false;  ///< false: LINKMARGIN_DATASETS names none, and their pages are not made
};

Document document();

}  // namespace linkmargin::validation
