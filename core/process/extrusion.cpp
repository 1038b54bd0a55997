// SPDX-License-Identifier: MIT
#include "core/process/extrusion.h"

namespace touchmark::process {

Error no_simulated_print(const Process& process) {
    if (!extrudes(process))
        return {"print.no_figures",
                "Printing in simulation is for extrusion only; \"" + process.title + "\" is judged by its limits.",
                "The findings say what they are; choose an extrusion profile to see a mark printed."};
    return {"print.no_figures", "The profile \"" + process.title + "\" has no figures for a simulated print.",
            "Add them under \"printing\", or choose another profile."};
}

} // namespace touchmark::process
