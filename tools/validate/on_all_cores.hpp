// The same work for many items, shared out over the cores.
#pragma once

#include <cstddef>
#include <functional>
#include <string_view>

namespace retap::validate {

/// Calls work(0) .. work(count - 1), each once, on `cores` threads (0: as many as the machine has), showing how far it
/// is on a terminal ("12 of 60 `unit`"). Work on one item must not touch what another writes. The first exception stops
/// the handing out and is thrown again here.
void on_all_cores(std::size_t count, std::size_t cores, std::string_view unit,
                  const std::function<void(std::size_t)>& work);

} // namespace retap::validate
