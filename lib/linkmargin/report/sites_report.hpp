#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <optional>
#include <span>
#include <string>

namespace linkmargin {

/// One of several sites that were checked together.
struct CheckedSite {
  std::string file;  ///< as the person named it
  LinkTable table;
};

/// Of all hubs together.
struct SlotCount {
  int used = 0;
  int all = 0;
};

/// What one row says of a site.
struct SiteOverview {
  Outcome outcome = Outcome::good;  ///< weak: a device or an area is, or slots are missing
  const Link* worst = nullptr;      ///< of the table; null where it has no device
  std::optional<SlotCount> slots;   ///< as far as every hub states what it has
};
SiteOverview site_summary(const LinkTable& table);

/// "22 of 40"
std::string slots_words(const Wording& wording, const SlotCount& slots);

/// How many sites there are, and how many have something weak.
std::string sites_headline(const Wording& wording, std::size_t sites, std::size_t weak);

/// `check` of several sites for people: one row a site, in the order given.
Document sites_document(const Language& language, std::span<const CheckedSite> sites);

/// The rows of check_rows() of all sites, each with its file and site before it.
Table sites_rows(std::span<const CheckedSite> sites, bool with_serving);

/// A list of what check_json() has of each site, with the key `file`.
std::string sites_json(const Language& language, std::span<const CheckedSite> sites);

}  // namespace linkmargin
