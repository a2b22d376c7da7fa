# A survey with a point short by 2 (P1), a protected one (P2) and an undecided one (P3). Read after lib.sh.
# shellcheck shell=sh

overlay=$root/tests/e2e/overlay.yaml
cat >"$work/house.yaml" <<'Y'
# kept by hand
tundish: 1
premises:
  ref: bench
  parts: [ { ref: flat, use: house } ]
branches:
  - { ref: cold, from: main }
rooms:
  - ref: kitchen
    name: "=Kitchen, back"
    part: flat
    points:
      - ref: P1
        kind: e2e_tank
        seen: yes
        inlets: { feed: { fed_by: cold, protection: [ { ref: P1a, type: E2E } ] } }
        answers: { e2e_dirty: yes }
      - ref: P2
        kind: e2e_tank
        seen: yes
        inlets: { feed: { fed_by: cold, protection: [ { ref: P2a, type: E2E } ] } }
        answers: { e2e_dirty: no }
      - ref: P3
        kind: e2e_tank
        seen: yes
        inlets: { feed: { fed_by: cold, protection: [ { ref: P3a, type: E2E } ] } }
Y
# The same with nothing short in it, and with a fault.
sed 's/e2e_dirty: yes/e2e_dirty: no/' "$work/house.yaml" >"$work/fine.yaml"
sed 's/kind: e2e_tank/kind: e2e_tnak/' "$work/house.yaml" >"$work/bad.yaml"
