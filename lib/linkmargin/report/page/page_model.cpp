#include "linkmargin/report/page/page_model.hpp"

#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/words/remedy_words.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace linkmargin::page {
namespace {

Standing standing_of(const Link& link) {
  switch (link.outcome) {
    case Outcome::weak:
      return Standing::weak;
    case Outcome::doubtful:
      return Standing::close;
    case Outcome::good:
      break;
  }
  return Standing::fine;
}

/// Weak ones before close ones; among these what reads lower, then what has the smaller margin.
bool goes_before(const DevicePage& left, const DevicePage& right) {
  const auto rank = [](const DevicePage& entry) {
    return std::tuple(entry.standing, entry.read_percent.value_or(entry.link->told().reading_percent),
                      entry.link->weaker().margin.value, entry.device->name);
  };
  return rank(left) < rank(right);
}

}  // namespace

const Typesetting kPageText{html::name, "\u00A0"};

const Link* serving_link(const LinkTable& table, const std::string& device) {
  const auto found = std::ranges::find_if(
      table.links, [&](const Link& link) { return link.serving && link.device == device; });
  return found == table.links.end() ? nullptr : &*found;
}

const Link* lowest_link(const LinkTable& table) {
  const Link* found = nullptr;
  for (const Link& link : table.links) {
    if (!link.serving) continue;
    if (found == nullptr || link.told().reading_percent < found->told().reading_percent) found = &link;
  }
  return found;
}

std::string word(Standing standing) {
  return standing == Standing::weak ? "weak" : standing == Standing::close ? "close" : "fine";
}

bool has_range(const Link& link) {
  return &link.told() == &link.weaker();
}

PageModel::PageModel(const Site& site, const SiteReview& review, const Language& language,
                     const PageOptions& options, const Typesetting& typesetting)
    : site_(&site), review_(&review), wording_(language, typesetting), options_(&options) {
  for (const Device& device : site.devices) {
    DevicePage entry{.device = &device, .link = serving_link(review.states.front().table, device.name)};
    if (entry.link == nullptr) continue;
    if (review.states.size() > 1) entry.other_doors = serving_link(review.states[1].table, device.name);
    entry.as_planned = serving_link(review.as_planned, device.name);
    if (review.before) entry.before = serving_link(*review.before, device.name);
    const auto known = review.present.of_device.find(device.name);
    if (known != review.present.of_device.end()) entry.read_percent = known->second.percent;
    entry.standing = standing_of(*entry.link);
    for (const DeviceRelocation& relocation : review.relocation.devices) {
      if (relocation.link.device == device.name) entry.relocation = &relocation;
    }
    entries_.push_back(entry);
  }
  std::ranges::sort(entries_, goes_before);
  for (std::size_t i = 0; i < entries_.size(); ++i) entries_[i].number = i + 1;
}

const DevicePage& PageModel::entry(const std::string& device) const {
  return *std::ranges::find_if(entries_, [&](const DevicePage& one) { return one.device->name == device; });
}

std::string PageModel::remedy_text(const Remedy& remedy) const {
  return remedy_words(wording_, *site_, review_->relocation, remedy);
}

double PageModel::points(double decibels) const {
  return 100 * decibels / (site_->reading.full - site_->reading.zero).value;
}

}  // namespace linkmargin::page
