// SPDX-License-Identifier: MIT
#pragma once

namespace touchmark {

/// One visitor of a variant made of a function for each alternative.
template <class... Functions> struct Overloaded : Functions... {
    using Functions::operator()...;
};
template <class... Functions> Overloaded(Functions...) -> Overloaded<Functions...>;

} // namespace touchmark
