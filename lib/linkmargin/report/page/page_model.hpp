#pragma once

#include "linkmargin/report/page/page_options.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <optional>
#include <string>
#include <vector>

// Inside report/ only: what a page tells, put in order, and how its figures are said.
namespace linkmargin::page {

/// Names set apart by html::name(), figures kept with their units.
extern const Typesetting kPageText;

/// How a device stands: by what was read of it, where something was, else by what is predicted.
enum class Standing { weak, close, fine };

/// "weak", "close", "fine": as classes and keys of texts have it.
std::string word(Standing standing);

/// Of a device with the hub that serves it; null where the table has none.
const Link* serving_link(const LinkTable& table, const std::string& device);

/// The serving link that reads lowest; null where no device has one.
const Link* lowest_link(const LinkTable& table);

/// Whether Link::low_percent and high_percent are of Link::told().
bool has_range(const Link& link);

/// One device with all that is known of it.
struct DevicePage {
  const Device* device = nullptr;
  const Link* link = nullptr;         ///< doors as asked for
  const Link* other_doors = nullptr;  ///< null: no leaf opens
  const Link* as_planned = nullptr;   ///< as `link`, without readings
  const Link* before = nullptr;       ///< null: no site before was given, or the device is new in it
  const DeviceRelocation* relocation = nullptr;  ///< null: nothing is to be done
  std::optional<double> read_percent{};          ///< where it hangs
  Standing standing = Standing::fine;
  std::size_t number = 0;  ///< on plans and cards, from 1: the weakest first

  std::string id() const { return "device-" + std::to_string(number); }
};

class PageModel {
 public:
  /// @param typesetting  of the medium that the texts are for
  PageModel(const Site& site, const SiteReview& review, const Language& language, const PageOptions& options,
            const Typesetting& typesetting = kPageText);

  const Site& site() const { return *site_; }
  const SiteReview& review() const { return *review_; }
  const Wording& wording() const { return wording_; }
  const Language& language() const { return wording_.language(); }
  const PageOptions& options() const { return *options_; }
  bool for_file() const { return options_->reader == Reader::file; }

  const std::vector<DevicePage>& entries() const { return entries_; }  ///< the weakest first
  const DevicePage& entry(const std::string& device) const;

  double threshold_percent() const { return site_->reading.weak_below_percent; }
  std::string threshold_text() const { return percent_text(threshold_percent()); }

  /// A reading as a whole number, never on the wrong side of the threshold: "29".
  std::string percent_text(double percent) const { return wording_.percent(percent, threshold_percent()); }

  /// The same with its sign: "29 %".
  std::string percent_figure(double percent) const { return percent_text(percent) + "\u00A0%"; }

  std::string chance_text(double probability) const { return wording_.chance(probability); }

  std::string length_text(double length_m) const { return wording_.length(length_m); }

  /// "the hub" where there is one, else "hub garage".
  std::string hub_text(const std::string& hub) const { return wording_.hub(site(), hub); }

  /// So many decibels on the scale of readings.
  double points(double decibels) const;

  std::string place_text(const Placement& place) const { return wording_.room(site(), place); }

  /// One thing to try with what is then expected. @param remedy of the review
  std::string remedy_text(const Remedy& remedy) const;

  std::string say(std::string_view key, Language::Places places = {}) const {
    return wording_.say(key, places);
  }

 private:
  const Site* site_;
  const SiteReview* review_;
  Wording wording_;
  const PageOptions* options_;
  std::vector<DevicePage> entries_;
};

}  // namespace linkmargin::page
