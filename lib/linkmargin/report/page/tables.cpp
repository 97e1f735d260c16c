#include "linkmargin/report/page/tables.hpp"

#include "linkmargin/report/page/gauge.hpp"
#include "linkmargin/report/page/plan.hpp"
#include "linkmargin/report/words/codes/warning_words.hpp"
#include "linkmargin/report/words/failure_words.hpp"

#include <algorithm>

namespace linkmargin::page {
namespace {

void device_head(html::Writer& out, const PageModel& content, const DevicePage& entry) {
  out.open("th", {{"scope", "row"}});
  out.markup(standing_sign(content.wording(), entry.standing));
  out.text(" ");
  out.element("a", {{"href", "#" + entry.id()}, {"data-device", entry.id()}}, html::name(entry.device->name));
  out.close();
}

/// The slots of a hub or repeater.
BulletList::Item load_item(const PageModel& content, const HubLoad& hub) {
  const Language::Place name{"hub", content.wording().name(hub.hub)};
  const Language::Place used{"used", std::to_string(hub.slots_used)};
  return {.text = hub.capacity ? content.say(hub.over_capacity ? "hubs.over_full" : "hubs.slots",
                                             {name, used, {"capacity", std::to_string(*hub.capacity)}})
                               : content.say("hubs.slots_unknown", {name, used}),
          .tone = hub.over_capacity ? Tone::weak : Tone::plain};
}

/// Each line with its sign.
void signed_list(html::Writer& out, const PageModel& content, const BulletList& list) {
  out.open("ul", {{"class", "facts"}});
  for (const BulletList::Item& item : list.items) {
    out.open("li");
    out.markup(standing_sign(content.wording(), item.tone == Tone::weak ? Standing::weak : Standing::fine));
    out.text(" " + item.text);
    out.close();
  }
  out.close();
}

}  // namespace

std::string read_figure(const PageModel& content, double percent) {
  return content.say("overview.read", {{"percent", content.percent_text(percent)}});
}

void open_section(html::Writer& out, const std::string& id, const std::string& title) {
  out.open("section", {{"id", id}, {"aria-labelledby", id + "-title"}});
  out.element("h2", {{"id", id + "-title"}}, title);
}

void write_figure(html::Writer& out, const std::string& text) {
  out.element("td", {{"class", "figure"}}, text);
}

void open_table(html::Writer& out, const std::string& caption, const std::vector<std::string>& titles,
                const std::string& css_class, bool figures) {
  out.open("div", {{"class", "table-frame"}, {"tabindex", "0"}, {"role", "group"}, {"aria-label", caption}});
  out.open("table", {{"class", css_class}});
  out.element("caption", caption);
  out.open("thead");
  out.open("tr");
  bool first = true;
  for (const std::string& title : titles) {
    out.element("th", {{"scope", "col"}, {"class", first || !figures ? "" : "figure"}}, title);
    first = false;
  }
  out.close();
  out.close();
  out.open("tbody");
}

void close_table(html::Writer& out) {
  for (int part = 0; part < 3; ++part) out.close();
}

void write_overview(html::Writer& out, const PageModel& content) {
  const bool two = content.review().states.size() > 1;
  const bool armed_first = content.review().states.front().table.doors == Doors::armed;
  const std::string closed = content.say("overview.closed"), open = content.say("overview.open");
  const std::string caption = content.say("overview.caption", {{"threshold", content.threshold_text()}});
  const std::string device = content.say("overview.device"), chance = content.say("overview.chance");
  if (two) {
    open_table(out, caption,
               {device, armed_first ? closed : open, chance, armed_first ? open : closed, chance});
  } else {
    open_table(out, caption, {device, content.say("overview.reading"), chance});
  }
  for (const DevicePage& entry : content.entries()) {
    out.open("tr", {{"data-device", entry.id()}});
    device_head(out, content, entry);
    if (entry.read_percent) {
      write_figure(out, read_figure(content, *entry.read_percent));
      write_figure(out, "");
    } else {
      write_figure(out, content.percent_figure(entry.link->told().reading_percent));
      write_figure(out, content.chance_text(entry.link->pass_probability));
    }
    if (entry.other_doors != nullptr) {
      write_figure(out, content.percent_figure(entry.other_doors->told().reading_percent));
      write_figure(out, content.chance_text(entry.other_doors->pass_probability));
    }
    out.close();
  }
  close_table(out);
}

BulletList areas_and_hubs(const PageModel& content) {
  const LinkTable& table = content.review().states.front().table;
  BulletList list;
  for (const AreaCover& area : table.areas) {
    const std::string& hub = area.via.empty() ? area.hub : area.via.front();
    list.items.push_back(
        {.text = content.say("hubs.area", {{"area", content.wording().name(area.area)},
                                           {"hub", content.hub_text(hub)},
                                           {"share", content.language().number(area.share_percent, 0)},
                                           {"wanted", content.language().number(area.wanted_percent)}}),
         .tone = area.weak ? Tone::weak : Tone::plain});
  }
  for (const auto* loads : {&table.hubs, &table.repeater_loads}) {
    for (const HubLoad& load : *loads) list.items.push_back(load_item(content, load));
  }
  return list;
}

std::string areas_and_hubs_title(const PageModel& content) {
  const bool areas = !content.review().states.front().table.areas.empty();
  return content.say(areas ? "hubs.title_with_areas" : "check.title.hubs");
}

void write_areas_and_hubs(html::Writer& out, const PageModel& content) {
  const BulletList list = areas_and_hubs(content);
  if (list.items.empty()) return;
  open_section(out, "hubs", areas_and_hubs_title(content));
  signed_list(out, content, list);
  out.close();
}

void write_failures(html::Writer& out, const PageModel& content) {
  const LinkTable& table = content.review().states.front().table;
  if (table.failures.empty()) return;
  open_section(out, "failures", content.say("check.title.failures"));
  signed_list(out, content, failure_list(content.wording(), table.failures));
  out.close();
}

void write_before(html::Writer& out, const PageModel& content) {
  if (!content.review().before) return;
  open_section(out, "before", content.say("before.title"));
  out.element("p", content.say("before.intro"));
  if (!content.review().readings.empty())
    out.element("p", {{"class", "aside"}}, content.say("cases.without_readings"));
  open_table(out, content.say("before.caption"),
             {content.say("overview.device"), content.say("before.before"), content.say("before.after")});
  for (const DevicePage& entry : content.entries()) {
    out.open("tr");
    device_head(out, content, entry);
    write_figure(out, entry.before == nullptr ? content.say("before.new")
                                              : content.percent_figure(entry.before->told().reading_percent));
    write_figure(out, content.percent_figure(entry.as_planned->told().reading_percent));
    out.close();
  }
  close_table(out);
  out.close();
}

void write_readings(html::Writer& out, const PageModel& content) {
  if (content.review().readings.empty()) return;
  open_section(out, "readings", content.say("readings.title"));
  out.element("p", content.say("readings.intro"));
  open_table(out, content.say("readings.caption"),
             {content.say("overview.device"), content.say("readings.scale"),
              content.say("readings.predicted"), content.say("readings.read")},
             "lines gauges");
  for (const DevicePage& entry : content.entries()) {
    if (!entry.read_percent) continue;
    const double predicted = entry.link->told().reading_percent;
    out.open("tr");
    device_head(out, content, entry);
    out.open("td", {{"class", "scale"}});
    Gauge gauge = gauge_of(entry);
    gauge.label = content.say("readings.label", {{"percent", content.percent_text(predicted)},
                                                 {"read", content.percent_text(*entry.read_percent)}});
    out.markup(gauge_drawing(content, gauge));
    out.close();
    write_figure(out, content.percent_figure(predicted));
    write_figure(out, content.percent_figure(*entry.read_percent));
    out.close();
  }
  close_table(out);
  for (const std::string& left_out : warning_texts(content.language(), content.review().present.left_out))
    out.element("p", {{"class", "aside"}}, left_out);
  out.close();
}

}  // namespace linkmargin::page
