#pragma once

#include "twoturn/study/report_answer.hpp"

namespace twoturn {

/// The report for a spec that has passed `validate`.
[[nodiscard]] ReportAnswer report_of(const DriveSpec& spec, const Heading& heading);

}  // namespace twoturn
