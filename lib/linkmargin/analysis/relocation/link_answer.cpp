#include "linkmargin/analysis/relocation/link_answer.hpp"

#include "linkmargin/analysis/relocation/relocation.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin {
namespace {

/// The device enrolled as the link is.
Site enrolled(Site site, const Link& link) {
  const auto device = std::ranges::find(site.devices, link.device, &Device::name);
  device->hub = link.hub;
  device->via = link.via.empty() ? kDirect : link.via.front();
  return site;
}

}  // namespace

std::vector<TriedSpot> spots_of_rows(const Site& site, const LinkTable& table, const Link& link) {
  const auto device = std::ranges::find(site.devices, link.device, &Device::name);
  if (device == site.devices.end() || !link.serving) return {};
  std::vector<TriedSpot> rows = read_spots(site, table.present, *device);
  if (rows.size() == 1 && link.outcome != Outcome::weak) rows.clear();
  return rows;
}

LinkAnswer link_answer(const Site& site, const LinkTableOptions& options, const Link& link,
                       const std::vector<TriedSpot>& spots, std::optional<double> percent) {
  LinkAnswer answer;
  if (!spots.empty())
    answer.read = readings_verdict(FadingModel(site.fading), site.reading, site.radio.frequency_hz, link,
                                   spots, centimetre_options(site, link));
  const bool fine = answer.read ? answer.read->enough() && answer.read->verdict != ReadingVerdict::low
                                : link.outcome == Outcome::good;
  if (fine) return answer;
  RelocationOptions asked{.doors = options.doors, .devices = {link.device}, .readings = options.readings};
  asked.threads = options.threads;
  if (percent) {
    Reading& reading = asked.readings.emplace_back();
    reading.device = link.device;
    reading.percent = percent;
  }
  answer.tried = relocation(link.serving ? site : enrolled(site, link), asked);
  if (answer.read) {
    const auto& found = answer.tried->devices.front().remedies;
    answer.read->good_place = std::ranges::find(found, RemedyKind::read_place, &Remedy::kind) != found.end();
  }
  return answer;
}

}  // namespace linkmargin
