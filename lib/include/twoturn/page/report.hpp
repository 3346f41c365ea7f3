#pragma once

#include <string>

#include "twoturn/study/report_answer.hpp"

namespace twoturn {

/// One HTML file that opens with no connection, on a phone and a desk: verdict, findings, the belt
/// end with a handle that turns the crank through two turns, plots, tables, cautions. Its script
/// only goes between the motion's steps; without scripts everything but the motion is there.
/// `order_svg` stands for the belt end where places are not known.
std::string report_html(const ReportAnswer& report, const std::string& order_svg = "");

}  // namespace twoturn
