#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/site/site.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include <string>
#include <string_view>

namespace linkmargin {

/// Reads a site file: its materials and profiles stand beside those of the tables and replace them by name.
/// @param text       the bytes of the file: UTF-8, with or without a byte-order mark, any line ends
/// @param file_name  as the person named it, for the faults
/// @return the site, sound by validate(), or every fault of the file by line and column. Text that is no
/// YAML,
///         nests deeper than 64 levels or is longer than kMaxFileBytes gives one fault.
Result<Site> parse_site(std::string_view text, const std::string& file_name, const Tables& tables);

/// A site as far as it could be read, and every fault of its file.
struct SiteAttempt {
  Site site;  ///< sound where there are no faults; else what was read, placeholders for what was not
  Diagnostics faults;
};

/// The same for those who show a file while it is being typed.
SiteAttempt attempt_site(std::string_view text, const std::string& file_name, const Tables& tables);

}  // namespace linkmargin
