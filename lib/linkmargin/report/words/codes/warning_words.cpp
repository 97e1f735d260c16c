#include "linkmargin/report/words/codes/warning_words.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/report/words/codes/part_words.hpp"

#include <utility>

namespace linkmargin {
namespace {

/// Says what goes to a place.
struct Sayer {
  const Language& language;

  std::string operator()(const std::string& text) const { return text; }
  std::string operator()(const Quoted& quoted) const { return language.quoted(quoted.name); }
  std::string operator()(const QuotedList& list) const { return listed(list.names, list.most); }
  std::string operator()(const NameList& list) const {
    return list.in_sentence ? language.listed(list.names, list.names.size()) : joined(list.names);
  }
  std::string operator()(const PartName& part) const { return quoted_part_text(language, part); }

  std::string operator()(const PartList& list) const {
    std::vector<std::string> names;
    for (const PartName& part : list.parts) names.push_back(part_text(language, part));
    return listed(names, list.most);
  }

  std::string operator()(const Figure& figure) const {
    return figure.decimals ? language.number(figure.value, *figure.decimals) : language.number(figure.value);
  }

  std::string operator()(const LengthFigure& figure) const {
    return figure.decimals ? language.length(figure.length_m, *figure.decimals)
                           : language.length(figure.length_m);
  }

  std::string operator()(const std::vector<StatedBand>& bands) const {
    return joined(stated_texts(language, bands));
  }

  std::string listed(const std::vector<std::string>& names, std::size_t most) const {
    std::vector<std::string> quoted;
    for (const std::string& name : names) quoted.push_back(language.quoted(name));
    return language.listed(quoted, most);
  }
};

}  // namespace

std::string stated_text(const Language& language, const StatedBand& stated) {
  const std::string from = language.number(mhz_from_hz(stated.min_hz));
  if (stated.min_hz == stated.max_hz)
    return language.say("list.stated_at", {{"name", stated.material}, {"at", from}});
  return language.say(
      "list.stated",
      {{"name", stated.material}, {"from", from}, {"to", language.number(mhz_from_hz(stated.max_hz))}});
}

std::vector<std::string> stated_texts(const Language& language, const std::vector<StatedBand>& bands) {
  std::vector<std::string> texts;
  for (const StatedBand& band : bands) texts.push_back(stated_text(language, band));
  return texts;
}

std::string warning_text(const Language& language, const Warning& warning) {
  std::vector<Language::Place> places;
  for (const WarningArgument& argument : warning.arguments)
    places.emplace_back(argument.place, std::visit(Sayer{language}, argument.value));
  std::string text = language.say("warning." + std::string(code_name(warning.code)), places);
  if (warning.of_device.empty()) return text;
  return language.say("list.of_device", {{"device", warning.of_device}, {"text", std::move(text)}});
}

std::vector<std::string> warning_texts(const Language& language, const std::vector<Warning>& warnings) {
  std::vector<std::string> texts;
  for (const Warning& warning : warnings) texts.push_back(warning_text(language, warning));
  return texts;
}

}  // namespace linkmargin
