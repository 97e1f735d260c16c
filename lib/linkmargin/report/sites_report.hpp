#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/document/document.hpp"

#include <span>
#include <string>

namespace linkmargin {

/// One of several sites that were checked together.
struct CheckedSite {
  std::string file;  ///< as the person named it
  LinkTable table;
};

/// `check` of several sites for people: one row a site, in the order given.
Document sites_document(const Language& language, std::span<const CheckedSite> sites);

/// The rows of check_rows() of all sites, each with its file and site before it.
Table sites_rows(std::span<const CheckedSite> sites, bool with_serving);

/// A list of what check_json() has of each site, with the key `file`.
std::string sites_json(const Language& language, std::span<const CheckedSite> sites);

}  // namespace linkmargin
