// SPDX-License-Identifier: MIT
#include "app/cli/content_options.h"
#include "app/cli/workspace.h"
#include "core/base/atomic_file.h"
#include "core/content/svg_writer.h"

#include <filesystem>
#include <ostream>

namespace touchmark::cli {

std::vector<Option> outline_options() {
    std::vector<Option> options = content_options(Which::content);
    options.push_back({"-o", "OUT.svg", "The SVG file to write: millimetres, filled nonzero.", true});
    return options;
}

Exit run_outline(const Environment& environment, const Arguments& arguments) {
    job::Mark mark;
    mark.anchor.face = 0; // wherever: only its outline is asked for
    auto job = job::add_mark({}, std::move(mark));
    if (job) job = with_content(*std::move(job), arguments);
    if (!job) return complain(environment, job.error(), Exit::usage);
    const auto fonts = content::FontLibrary::system();
    if (!fonts) return complain(environment, fonts.error(), Exit::input);
    const auto said = content::expanded(job->marks.front().content, job->variables, {});
    if (!said) return complain(environment, said.error(), Exit::usage);
    const auto drawn = content::draw(*said, **fonts);
    if (!drawn) return complain(environment, drawn.error(), Exit::input);
    for (const content::Note& note : drawn->notes)
        environment.err << "touchmark-cli: the drawing has " << note.what << '\n';
    std::error_code unknown;
    const auto target = std::filesystem::absolute(arguments.value("-o"), unknown);
    if (const Status written = write_text_atomically(target, content::to_svg(drawn->outline, drawn->extent)); !written)
        return complain(environment, written.error(), Exit::not_made);
    return Exit::done;
}

} // namespace touchmark::cli
