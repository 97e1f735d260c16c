#pragma once

#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/page/page_options.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace linkmargin {

/// One of several sites whose pages are written together.
struct IndexedSite {
  std::string file;                  ///< as the person named it
  std::string page;                  ///< of page_names()
  std::optional<LinkTable> table{};  ///< absent: the site has faults, and no page
  std::size_t faults = 0;            ///< over kMostFaults: more than these
};

/// The name of the index beside the pages.
inline constexpr const char* kIndexPage = "index.html";

/// What the pages of site files are called: "site.html" of "some/site.yaml". All differ, also where a file
/// system makes no difference of small and capital letters, and none is kIndexPage.
std::vector<std::string> page_names(std::span<const std::string> files);

/// The page that leads to those of several sites, one row a site, in the order given. It looks like
/// page_html()'s and links to files beside it.
std::string index_html(std::span<const IndexedSite> sites, const Language& language,
                       const PageOptions& options = {});

}  // namespace linkmargin
