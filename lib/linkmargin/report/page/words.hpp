#pragma once

#include "linkmargin/report/page/page_model.hpp"

#include <optional>
#include <string>
#include <vector>

// Inside report/ only: a page's sentences on what is.
namespace linkmargin::page {

/// What a reader in a hurry must not miss, in a sentence or two.
std::string verdict(const PageModel& content);

/// Why a device is doubtful that should read enough, of the one with the lowest chance; empty where none is.
std::string doubt_words(const PageModel& content);

/// Weak where a device, an area or a hub's slots are.
Standing standing(const PageModel& content);

/// What hears a device: "the hub", or "landing repeater, then the hub".
std::string station_words(const PageModel& content, const Link& link);

/// The same in a sentence, with what each repeater on the way reads where it is heard.
std::string received_words(const PageModel& content, const Link& link);

/// Why a device reads what it reads, without jargon.
std::string cause_words(const PageModel& content, const DevicePage& entry);

/// What is expected of a device, or was read, and with what chance it is enough.
std::string outlook_words(const PageModel& content, const DevicePage& entry);

/// What a reading taken on site says beside the prediction; nothing where none was taken.
std::optional<std::string> reading_words(const PageModel& content, const DevicePage& entry);

/// What another spot about a device that was read weak should read; empty for others.
std::string other_spot_words(const PageModel& content, const DevicePage& entry);

/// What can be done for one device, the best marked.
struct DeviceRemedies {
  std::vector<std::string> left_out{};  ///< why something is not proposed
  std::optional<std::size_t> stop{};    ///< of the plan for the visit, from 1
  struct Item {
    std::string text;
    std::string lead{};  ///< before the text of the one that is chosen
  };
  std::vector<Item> items{};
};

/// Nothing for a device that needs nothing.
DeviceRemedies device_remedies(const PageModel& content, const DevicePage& entry);

}  // namespace linkmargin::page
