// SPDX-License-Identifier: MIT
#include "app/panels/profile_groups.h"

#include "app/panels/look.h"
#include "core/process/extrusion.h"

#include <QObject>

namespace touchmark::panels {
namespace {

using process::Origin;

/// "Extrusion, 0.4 mm nozzle, PETG" beside "Extrusion, 0.4 mm nozzle": "PETG".
QString rest_of(const std::string& title, const std::string& of) {
    const std::string start = of + ", ";
    return text(title.starts_with(start) ? std::string_view(title).substr(start.size()) : std::string_view(title));
}

} // namespace

std::vector<ProfileGroup> grouped(const process::Profiles& profiles) {
    std::vector<ProfileGroup> groups;
    ProfileGroup others{QObject::tr("Other processes"), {}}, own{QObject::tr("Your own"), {}, true};
    for (const process::Profile& one : profiles.all) {
        if (one.origin == Origin::own) {
            own.profiles.push_back({&one, text(one.process.title)});
        } else if (one.origin == Origin::built_in && !extrudes(one.process)) {
            others.profiles.push_back({&one, text(one.process.title)});
        } else if (one.origin == Origin::built_in) {
            ProfileGroup nozzle{QObject::tr("%1 mm nozzle").arg(one.process.nozzle_mm.value),
                                {{&one, QObject::tr("Any material")}}};
            for (const process::Profile& with : profiles.all)
                if (with.origin == Origin::composed && with.based_on == one.process.id)
                    nozzle.profiles.push_back({&with, rest_of(with.process.title, one.process.title)});
            groups.push_back(std::move(nozzle));
        }
    }
    for (ProfileGroup* last : {&others, &own})
        if (!last->profiles.empty()) groups.push_back(std::move(*last));
    return groups;
}

} // namespace touchmark::panels
