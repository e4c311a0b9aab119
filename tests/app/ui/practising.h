#pragma once
// A view model in the middle of a practice, and short ways to tell it things and to look at it.

#include <doctest/doctest.h>

#include <string>
#include <variant>
#include <vector>

#include "app/ui/view_model.h"
#include "tests/app/ui/scripted.h"

namespace holdwell::test {

using scripted::Voice;

inline Preferences practised()
{
    Preferences p;
    p.cautions = Cautions::read;
    return p;
}

inline ViewModel practising(const WindowOptions& options = {}, const Preferences& p = practised())
{
    ViewModel vm{options, p};
    for (const Update& u : scripted::beginning()) vm.apply(u);
    vm.take_commands();
    return vm;
}

inline void tell(ViewModel& vm, const std::vector<Update>& updates)
{
    for (const Update& u : updates) vm.apply(u);
}

inline PracticeView practice(const ViewModel& vm)
{
    const WindowView view = vm.view();
    REQUIRE(std::holds_alternative<PracticeView>(view.screen));
    return std::get<PracticeView>(view.screen);
}

inline RibbonView ribbon(const ViewModel& vm) { return std::get<RibbonView>(practice(vm).picture); }

template <typename Kind>
int count(const std::vector<Command>& commands)
{
    int n = 0;
    for (const Command& c : commands) n += std::holds_alternative<Kind>(c) ? 1 : 0;
    return n;
}

inline Voice voice(double seconds)
{
    Voice v;
    v.length = Seconds{seconds};
    return v;
}

}  // namespace holdwell::test
