#include "linkmargin/report/page/index_page.hpp"

#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/report/page/frame.hpp"
#include "linkmargin/report/page/plan.hpp"
#include "linkmargin/report/page/tables.hpp"
#include "linkmargin/report/sites_report.hpp"
#include "linkmargin/text/file_limits.hpp"

#include <algorithm>
#include <set>

namespace linkmargin {
namespace {

constexpr std::string_view kEnding = ".html";

std::string last_part(const std::string& file) {
  return file.substr(file.rfind('/') + 1);
}

std::string without_ending(const std::string& name) {
  const std::size_t dot = name.rfind('.');
  return dot == name.npos || dot == 0 ? name : name.substr(0, dot);
}

/// A file name as a relative reference (RFC 3986): all but unreserved characters as their bytes.
std::string url_of(std::string_view name) {
  constexpr std::string_view digits = "0123456789ABCDEF";
  constexpr std::string_view unreserved =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~";
  std::string url;
  for (const char letter : name) {
    if (unreserved.find(letter) != unreserved.npos) {
      url += letter;
      continue;
    }
    const auto byte = static_cast<unsigned char>(letter);
    url += {'%', digits[byte / 16U], digits[byte % 16U]};
  }
  return url;
}

page::Standing standing_of(Outcome outcome) {
  return outcome == Outcome::weak       ? page::Standing::weak
         : outcome == Outcome::doubtful ? page::Standing::close
                                        : page::Standing::fine;
}

class Index {
 public:
  Index(std::span<const IndexedSite> sites, const Language& language, const PageOptions& options)
      : sites_(sites), wording_(language, page::kPageText), options_(options) {}

  std::string write() {
    page::open_page(out_, wording_, say("sites_page.title"), options_.reader);
    out_.open("header");
    page::write_heading(out_, wording_, say("sites_page.title"), options_.reader);
    verdict();
    out_.element("p", {{"class", "intro"}}, say("sites_page.intro"));
    out_.element("p", {{"class", "estimate"}}, say("caution.short.reading_decides"));
    out_.close();
    out_.open("main");
    page::open_table(
        out_, say("sites_page.caption"),
        {say("check.sites.site"), say("check.sites.weak"), say("check.sites.doubtful"),
         say("check.sites.worst"), say("check.column.chance") + " " + say("placement.chance_unit"),
         say("check.sites.slots_used")},
        "lines sites");
    for (const IndexedSite& site : sites_) row(site);
    page::close_table(out_);
    out_.element("p", {{"class", "aside"}}, say("caution.short.detectors_stay"));
    out_.close();
    page::write_footer(out_,
                       say("sites_page.footer", {{"date", options_.date}, {"version", options_.version}}));
    page::close_page(out_);
    return out_.take();
  }

 private:
  std::string say(std::string_view key, Language::Places places = {}) const {
    return wording_.say(key, places);
  }

  void verdict() {
    std::size_t weak = 0, not_written = 0;
    for (const IndexedSite& site : sites_) {
      if (!site.table) ++not_written;
      if (site.table && site_summary(*site.table).outcome == Outcome::weak) ++weak;
    }
    out_.element("p", {{"class", "verdict"}}, sites_headline(wording_, sites_.size() - not_written, weak));
    if (not_written > 0) out_.element("p", wording_.counted("sites_page.left_out", not_written));
  }

  void row(const IndexedSite& site) {
    out_.open("tr");
    if (site.table) {
      written(site, site_summary(*site.table));
    } else {
      out_.element("th", {{"scope", "row"}}, html::name(last_part(site.file)));
      out_.element("td", {{"colspan", "5"}}, faults(site.faults));
    }
    out_.close();
  }

  std::string faults(std::size_t count) const {
    if (count <= kMostFaults) return wording_.counted("sites_page.not_written", count);
    return say("sites_page.many_faults", {{"count", std::to_string(kMostFaults)}});
  }

  void written(const IndexedSite& site, const SiteOverview& summary) {
    out_.open("th", {{"scope", "row"}});
    out_.markup(page::standing_sign(wording_, standing_of(summary.outcome)));
    out_.text(" ");
    out_.element("a", {{"href", url_of(site.page)}}, html::name(site.table->site));
    out_.text(" ");
    out_.element("span", {{"class", "file"}}, html::name(last_part(site.file)));
    out_.close();
    figure(std::to_string(site.table->weak_devices.size()));
    figure(std::to_string(site.table->doubtful_devices.size()));
    const Link* worst = summary.worst;
    figure(worst == nullptr ? std::string() : html::name(worst->device));
    figure(worst == nullptr ? std::string() : wording_.chance_figure(worst->pass_probability));
    figure(summary.slots ? slots_words(wording_, *summary.slots) : std::string());
  }

  void figure(const std::string& text) { out_.element("td", {{"class", "figure"}}, text); }

  std::span<const IndexedSite> sites_;
  Wording wording_;
  const PageOptions& options_;
  html::Writer out_;
};

}  // namespace

std::vector<std::string> page_names(std::span<const std::string> files) {
  std::set<std::string> taken{kIndexPage};
  std::vector<std::string> names;
  for (const std::string& file : files) {
    const std::string stem = without_ending(last_part(file));
    std::string name = stem + std::string(kEnding);
    for (int number = 2; !taken.insert(lower_case(name)).second; ++number)
      name = stem + "-" + std::to_string(number) + std::string(kEnding);
    names.push_back(std::move(name));
  }
  return names;
}

std::string index_html(std::span<const IndexedSite> sites, const Language& language,
                       const PageOptions& options) {
  return Index(sites, language, options).write();
}

}  // namespace linkmargin
