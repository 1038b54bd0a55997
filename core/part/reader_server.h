// SPDX-License-Identifier: MIT
#pragma once

namespace touchmark::part {

/// The server's whole life: forks one worker for each request that comes in on `control`, buries the dead ones and
/// tells why they died, kills those whose answer nobody waits for any more. Ends when the program closes `control` or
/// ends.
[[noreturn]] void serve(int control);

} // namespace touchmark::part
