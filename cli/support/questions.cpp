#include "support/questions.hpp"

#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/blanks.hpp"
#include "linkmargin/text/display_text.hpp"
#include "linkmargin/yaml/writer/first_site.hpp"

#include "support/failure.hpp"

#include <cstdio>
#include <functional>
#include <optional>

namespace linkmargin::cli {
namespace {

constexpr std::size_t kLongestLine = 2000;
constexpr int kMostWrong = 20;
constexpr const char* kProposedRoom = "hall 2x5";

/// Changes a house by an answer. @return false where the answer is of another kind
using Take = std::function<bool(FirstHouse& house, const std::string& answer)>;

class Questions {
 public:
  Questions(const Language& language, const Tables& tables) : language_(language), tables_(tables) {
    house_.rooms = kProposedRoom;
  }

  std::string ask() {
    say(language_.say("starter.begin"));
    one("starter.ask.name", house_.name, [](FirstHouse& house, const std::string& answer) {
      house.name = answer;
      return true;
    });
    one("starter.ask.frequency", shortest_text(house_.frequency_mhz), number(&FirstHouse::frequency_mhz));
    one("starter.ask.construction", house_.construction, [](FirstHouse& house, const std::string& answer) {
      house.construction = answer;
      return true;
    });
    one("starter.ask.height", shortest_text(house_.height_m), length(&FirstHouse::height_m));
    one("starter.ask.first_room", house_.rooms, [](FirstHouse& house, const std::string& answer) {
      house.rooms = answer;
      return true;
    });
    several("starter.ask.rooms", [](FirstHouse& house, const std::string& answer) {
      house.rooms += ", " + answer;
      return true;
    });
    one("starter.ask.hub_room", first_room(), [](FirstHouse& house, const std::string& answer) {
      house.hub_room = answer;
      return true;
    });
    one("starter.ask.hub_corner", house_.hub_corner, [](FirstHouse& house, const std::string& answer) {
      house.hub_corner = answer;
      return true;
    });
    several("starter.ask.doors", [](FirstHouse& house, const std::string& answer) {
      house.doors.push_back(answer);
      return true;
    });
    several("starter.ask.devices", [](FirstHouse& house, const std::string& answer) {
      house.devices.push_back(answer);
      return true;
    });
    return first_site(house_, tables_).value();  // each answer was tried
  }

 private:
  static void say(const std::string& text) { std::fputs((printable(text) + "\n").c_str(), stderr); }

  /// A line of the standard input without blanks at its ends; nothing at its end.
  std::optional<std::string> answer(const std::string& question) {
    if (ended_) return {};
    std::fputs((printable(question) + " ").c_str(), stderr);
    std::fflush(stderr);
    std::string line;
    int letter = std::getchar();
    for (; letter != EOF && letter != '\n'; letter = std::getchar()) {
      line += static_cast<char>(letter);
      if (line.size() > kLongestLine) throw Failure(kBadInput, "this answer is longer than 2000 bytes");
    }
    ended_ = letter == EOF;
    if (ended_) std::fputs("\n", stderr);
    if (ended_ && line.empty()) return {};
    if (line.ends_with('\r')) line.pop_back();
    return std::string(trimmed(line));
  }

  static Take number(double FirstHouse::*member) {
    return [member](FirstHouse& house, const std::string& answer) {
      const auto value = parse_number(answer);
      if (value) house.*member = *value;
      return value.has_value();
    };
  }

  static Take length(double FirstHouse::*member) {
    return [member](FirstHouse& house, const std::string& answer) {
      const auto figure = parse_number(answer);
      const auto value_m = figure ? figure : parse_length_m(answer);
      if (value_m) house.*member = *value_m;
      return value_m.has_value();
    };
  }

  /// Whether the answer fits; if not, why is said.
  bool fits(const Take& take, const std::string& answer) {
    FirstHouse changed = house_;
    if (!take(changed, answer)) {
      say("  " + language_.say("starter.no_number"));
    } else if (const auto text = first_site(changed, tables_); !text) {
      for (Diagnostic fault : text.error()) {
        fault.file.clear();
        fault.line = fault.column = 0;  // of a file that nobody has seen
        say("  " + to_text(fault));
      }
    } else {
      house_ = std::move(changed);
      wrong_ = 0;
      return true;
    }
    if (++wrong_ >= kMostWrong)
      throw Failure(kBadInput, "20 answers in a row do not fit: nothing is written");
    return false;
  }

  void one(const char* key, const std::string& proposal, const Take& take) {
    const std::string question = language_.say(key) + " [" + proposal + "]";
    for (;;) {
      const auto typed = answer(question);
      if (!typed || typed->empty() || fits(take, *typed)) return;
    }
  }

  void several(const char* key, const Take& take) {
    for (;;) {
      const auto typed = answer(language_.say(key));
      if (!typed || typed->empty()) return;
      (void)fits(take, *typed);
    }
  }

  /// The name in "hall 2x5".
  std::string first_room() const {
    const std::string first = house_.rooms.substr(0, house_.rooms.find(','));
    return std::string(trimmed(first.substr(0, first.find_last_of(' '))));
  }

  const Language& language_;
  const Tables& tables_;
  FirstHouse house_;
  bool ended_ = false;
  int wrong_ = 0;
};

}  // namespace

std::string asked_site(const Language& language, const Tables& tables) {
  return Questions(language, tables).ask();
}

}  // namespace linkmargin::cli
