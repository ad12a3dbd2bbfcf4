// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "app/json.h"
#include "box/box_fields.h"

// The keys of a box file as the page's form is made from them.
namespace combwright::app {

// Every key there is, section by section: what to write, bounds, what it is when it is not given.
Json box_keys_json();

// Every key as it stands in a box text.
Json to_json(const box::BoxFields& fields);

}  // namespace combwright::app
