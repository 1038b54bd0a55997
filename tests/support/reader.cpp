// SPDX-License-Identifier: MIT
#include "tests/support/reader.h"

#include <stdexcept>

namespace touchmark::test {
namespace {
std::shared_ptr<part::Reader> shared;
}

void start_reader() {
    auto started = part::Reader::start();
    if (!started) throw std::runtime_error(started.error().message);
    shared = *started;
}

part::Reader& reader() {
    return *shared;
}

part::PartPtr read_part(const std::filesystem::path& file) {
    auto part = reader().read(file, Progress());
    if (!part) throw std::runtime_error(part.error().message);
    return *part;
}

} // namespace touchmark::test
