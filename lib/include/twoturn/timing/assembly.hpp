#pragma once

#include <optional>

#include "twoturn/drive/fitted.hpp"
#include "twoturn/timing/assembly_answer.hpp"
#include "twoturn/timing/mishap.hpp"

namespace twoturn {

struct AssemblyResult {
  std::optional<Assembly> assembly;
  std::optional<NoAssembly> none;
};

/// Puts the belt on. Each pulley takes the whole-tooth place nearest its mark on the reference way;
/// `[build] teeth_out` moves it from there. Both are of one spec: by the book, and the fit asked.
[[nodiscard]] AssemblyResult assemble(const Fitted& book, const Fitted& fitted);

/// The same with something gone wrong on the way.
[[nodiscard]] AssemblyResult assemble(const Fitted& book, const Fitted& fitted,
                                      const Mishap& mishap);

}  // namespace twoturn
