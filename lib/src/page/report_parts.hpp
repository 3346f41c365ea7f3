// The parts that the report's page is put together from.
#pragma once

#include <string>
#include <vector>

#include "html_parts.hpp"
#include "twoturn/picture/plot.hpp"
#include "twoturn/study/report_answer.hpp"

namespace twoturn::report {

/// One table: a heading, a line before it, columns, rows whose first cell names them.
struct Table {
  std::string id;
  std::string title;
  std::string lead;
  std::vector<std::string> heads;
  std::vector<std::vector<std::string>> rows;
};

std::vector<Table> tables_of(const ReportAnswer& report);
html::Data plots_of(const ReportAnswer& report);
/// Tensions and stretch over two turns; none where springs are not known.
std::vector<Plot> force_plots(const ReportAnswer& report);
/// What stands beside an axis of errors: which way is early hangs on which way the crank runs.
std::string early_up(const ReportAnswer& report);
html::Data turns_of(const ReportAnswer& report);
/// The motion as JSON that may stand inside a script element.
std::string motion_json(const BeltView& view, const Motion& motion);

}  // namespace twoturn::report
