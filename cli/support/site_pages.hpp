#pragma once

#include "linkmargin/report/page/index_page.hpp"
#include "linkmargin/site/site.hpp"

#include "output/files_together.hpp"
#include "support/arguments.hpp"
#include "support/failure.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin::cli {

/// Where the pages of several sites go.
struct SitePages {
  std::string folder;
  std::vector<std::string> names;  ///< a page each, in the order of the sites

  FileOut file(const std::string& name) const;
};

/// Before any work. @throws Failure when --output is no name of a folder, or a page would replace an input
SitePages planned_pages(const Arguments& arguments);

/// Makes the folder where it is missing. @throws Failure when it cannot be made
void make_folder(const std::string& folder);

/// One of several sites; without a site where it cannot be read or has faults.
struct PageSite {
  IndexedSite row;
  std::optional<Site> site{};
};

/// All sites, so that every fault is said before the long work begins.
std::vector<PageSite> read_page_sites(const Arguments& arguments, const SitePages& pages);

/// Says what is wrong with one site, and notes how many faults that is.
void leave_out(PageSite& site, const Failure& failure);

}  // namespace linkmargin::cli
