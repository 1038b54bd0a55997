// SPDX-License-Identifier: MIT
#include "app/cli/command.h"

#include <iostream>

int main(int argc, char** argv) {
    using namespace touchmark;
    auto reader = part::Reader::start(); // forks, so before anything else
    const cli::Environment environment{reader ? *reader : nullptr, std::cout, std::cerr};
    if (!reader) return static_cast<int>(cli::complain(environment, reader.error(), cli::Exit::not_made));
    const std::vector<std::string> words(argv + 1, argv + argc);
    return static_cast<int>(cli::run(environment, words));
}
