// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/progress.h"
#include "core/base/result.h"

#include <Message_ProgressIndicator.hxx>
#include <Standard_Failure.hxx>
#include <Standard_OutOfMemory.hxx>

#include <exception>
#include <new>
#include <string>
#include <string_view>
#include <utility>

namespace touchmark::part {

/// Runs `work`, which returns a Result, and turns whatever OpenCASCADE or the standard library throws into an Error.
/// The one place where a module that calls OpenCASCADE meets its exceptions.
template <class Work>
[[nodiscard]] auto guarded(std::string_view code, std::string_view doing, Work&& work) -> decltype(work()) {
    const auto failed = [&](std::string_view why) {
        return fail(std::string(code), std::string(doing) + " failed: " + std::string(why) + ".");
    };
    try {
        return std::forward<Work>(work)();
    } catch (const Standard_OutOfMemory&) {
        return failed("there is not enough memory");
    } catch (const Standard_Failure& failure) {
        const char* text = failure.GetMessageString();
        return failed(text && *text ? text : failure.DynamicType()->Name());
    } catch (const std::bad_alloc&) {
        return failed("there is not enough memory");
    } catch (const std::exception& exception) {
        return failed(exception.what());
    }
}

/// Hands OpenCASCADE's progress on to ours, and our wish to stop to OpenCASCADE.
class ProgressBridge : public Message_ProgressIndicator {
public:
    /// What OpenCASCADE does is the part of the whole between `from` and `to`.
    ProgressBridge(const Progress& progress, std::string text, double from = 0, double to = 1)
        : progress_(progress), text_(std::move(text)), from_(from), to_(to) {}

protected:
    Standard_Boolean UserBreak() override { return progress_.cancelled(); }
    void Show(const Message_ProgressScope&, const Standard_Boolean) override {
        progress_.report(from_ + (to_ - from_) * GetPosition(), text_);
    }

private:
    const Progress& progress_;
    std::string text_;
    double from_, to_;
};

} // namespace touchmark::part
