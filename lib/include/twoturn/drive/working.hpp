#pragma once

#include <optional>
#include <string>

#include "twoturn/drive/drive.hpp"
#include "twoturn/drive/working_answer.hpp"

namespace twoturn {

/// Empty when the route has no path. `from` and `to` choose one run (neighbours, either way round);
/// empty names: all of them.
std::optional<WorkingAnswer> work_route(const Drive& drive, const RouteAnswer& route,
                                        const std::string& from = "", const std::string& to = "");

}  // namespace twoturn
