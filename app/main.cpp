// SPDX-License-Identifier: MIT
#include "app/window/start.h"
#include "core/part/reader.h"

#include <cstdio>

int main(int argc, char** argv) {
    auto reader = touchmark::part::Reader::start(); // forks, so before any thread and before Qt
    if (!reader) {
        std::fprintf(stderr, "touchmark: %s\n", reader.error().message.c_str());
        return 4;
    }
    return touchmark::window::start(argc, argv, *reader);
}
