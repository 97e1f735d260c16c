#include "linkmargin/prediction/link_draws.hpp"

#include "linkmargin/prediction/uncertainty/correlated_spread.hpp"
#include "linkmargin/prediction/uncertainty/covariance_root.hpp"
#include "linkmargin/prediction/uncertainty/element_key.hpp"
#include "linkmargin/prediction/uncertainty/parameter_spread.hpp"
#include "linkmargin/propagation/fading/draw.hpp"
#include "linkmargin/propagation/fading/fading.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace linkmargin {
namespace {

constexpr char kSeparator = kKeySeparator;

/// What a link's model does not know: all of the spread that no element brings.
double model_sigma_db(const Link& link) {
  double variance = 0;
  for (const LossItem& item : link.loss.items) {
    if (item.table_row.empty()) variance += item.sigma_db * item.sigma_db;
  }
  return std::sqrt(variance);
}

}  // namespace

LinkDraws::LinkDraws(const Site& site, std::span<const Link> links, std::uint64_t seed)
    : site_(site.name), seed_(seed), fades_(site.fading.on) {
  add_elements(links);
  add_model(links);
  add_parameters(site, links);
  first_effects_.push_back(effects_.size());
  for (const Link& link : links) {
    const std::string name =
        site_ + kSeparator + "spot" + kSeparator + link.device + kSeparator + link.heard_by();
    spots_.push_back({{seed, named_stream(name)}, fades_ ? rician_k_ratio(link.k_db) : 0});
  }
}

void LinkDraws::add_cause(Cause cause, const std::string& stream, std::vector<Effect> effects) {
  std::erase_if(effects, [](const Effect& effect) { return effect.db == 0; });
  if (effects.empty()) return;
  causes_.push_back(std::move(cause));
  streams_.emplace_back(seed_, named_stream(site_ + kSeparator + stream));
  first_effects_.push_back(effects_.size());
  effects_.insert(effects_.end(), effects.begin(), effects.end());
}

void LinkDraws::add_elements(std::span<const Link> links) {
  struct Named {
    PartName part;
    std::vector<Effect> effects;
  };
  std::map<std::string, std::size_t> known;  // by what is passed, and how often before on the same way
  std::vector<std::pair<std::string, Named>> found;
  for (std::size_t i = 0; i < links.size(); ++i) {
    ElementKeys keys;
    for (const LossItem& item : links[i].loss.items) {
      if (item.table_row.empty() || item.sigma_db == 0) continue;
      const std::string key = keys.next(item);
      const auto [at, added] = known.try_emplace(key, found.size());
      if (added) found.push_back({key, {item.part, {}}});
      found[at->second].second.effects.push_back({i, -item.sigma_db});
    }
  }
  for (auto& [key, of] : found)
    add_cause({DrawnKind::element, of.part}, "element" + (kSeparator + key), of.effects);
}

void LinkDraws::add_model(std::span<const Link> links) {
  const auto count = static_cast<Eigen::Index>(links.size());
  std::vector<ReadingSpread> ends;
  for (const Link& link : links) {
    ends.push_back({.site = 0, .device = link.from, .hub = link.to, .local_db = 1, .spot_db = 0});
  }
  Eigen::MatrixXd alike(count, count);
  for (Eigen::Index i = 0; i < count; ++i) {
    for (Eigen::Index j = 0; j < count; ++j)
      alike(i, j) = correlation(ends[static_cast<std::size_t>(i)], ends[static_cast<std::size_t>(j)],
                                kShadowingCorrelationM);
  }
  const Eigen::MatrixXd root = covariance_root(alike);
  for (Eigen::Index cause = 0; cause < count; ++cause) {
    std::vector<Effect> effects;
    for (std::size_t i = 0; i < links.size(); ++i)
      effects.push_back({i, model_sigma_db(links[i]) * root(cause, static_cast<Eigen::Index>(i))});
    add_cause({DrawnKind::model}, "model" + (kSeparator + std::to_string(cause)), std::move(effects));
  }
}

void LinkDraws::add_parameters(const Site& site, std::span<const Link> links) {
  const ParameterCauses causes{ParameterSpread(site)};
  std::vector<std::vector<double>> by_link;
  for (const Link& link : links) {
    const double share = reading_percent(site.reading, link.weaker().level) / 100;
    by_link.push_back(causes.of(link.loss, share));
  }
  const std::size_t count = by_link.empty() ? 0 : by_link.front().size();
  for (std::size_t cause = 0; cause < count; ++cause) {
    std::vector<Effect> effects;
    for (std::size_t i = 0; i < links.size(); ++i) effects.push_back({i, by_link[i][cause]});
    add_cause({DrawnKind::parameter}, "parameter" + (kSeparator + std::to_string(cause)), std::move(effects));
  }
}

void LinkDraws::add(std::size_t cause, double deviations, std::span<double> shifts_db) const {
  for (std::size_t e = first_effects_[cause]; e < first_effects_[cause + 1]; ++e)
    shifts_db[effects_[e].link] += deviations * effects_[e].db;
}

void LinkDraws::add_fades(std::uint64_t number, std::span<double> shifts_db) const {
  for (std::size_t i = 0; fades_ && i < spots_.size(); ++i)
    shifts_db[i] += rician_draw_db(spots_[i].k_ratio, spots_[i].stream, number);
}

void LinkDraws::draw(std::uint64_t number, std::span<double> shifts_db) const {
  std::ranges::fill(shifts_db, 0.0);
  for (std::size_t cause = 0; cause < causes_.size(); ++cause) {
    add(cause, normal_pair(streams_[cause], number).first, shifts_db);
  }
  add_fades(number, shifts_db);
}

void LinkDraws::set_apart(std::size_t cause, double deviations, std::span<double> shifts_db) const {
  std::ranges::fill(shifts_db, 0.0);
  add(cause, deviations, shifts_db);
}

void LinkDraws::draw_alone(DrawnKind kind, std::uint64_t number, std::span<double> shifts_db) const {
  std::ranges::fill(shifts_db, 0.0);
  if (kind == DrawnKind::spot) return add_fades(number, shifts_db);
  for (std::size_t cause = 0; cause < causes_.size(); ++cause) {
    if (causes_[cause].kind != kind) continue;
    add(cause, normal_pair(streams_[cause], number).first, shifts_db);
  }
}

}  // namespace linkmargin
