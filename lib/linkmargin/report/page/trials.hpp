#pragma once

#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/page/page_model.hpp"

namespace linkmargin::page {

/// What the reader may try on the plan: other places of radios, and the cases. For the script; without it
/// nothing is shown.
void write_trial_controls(html::Writer& out, const PageModel& content);

/// Where the script says what is tried and what comes of it.
void write_trial_result(html::Writer& out, const PageModel& content);

/// How it is done, in a sentence.
void write_trial_help(html::Writer& out, const PageModel& content);

/// The figures of all of it, as the page says them, in a script element of JSON; nothing where there is
/// nothing to try. Six bytes a device: reading, lowest and highest of nine in ten (all as whole percent),
/// chance (hundredths; 0 under one, 100 over 99), 0 good, 1 doubtful, 2 weak, and the position of the hub or
/// repeater that hears it; in the order of the site, as base64 (RFC 4648, 4).
void write_trial_figures(html::Writer& out, const PageModel& content);

}  // namespace linkmargin::page
