/* One row a case: what it shows, the text, the changes (`where=value`; no value: taken away), the text then. */
	{"a plain value",
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: combi  # theirs\n",
	 {"supply/hot=unvented"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: unvented  # theirs\n"},
	{"quotes stay",
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: \"combi\"\n"
	 "  heating: 'none'\n",
	 {"supply/hot=unvented", "supply/heating=sealed"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: \"unvented\"\n"
	 "  heating: 'sealed'\n"},
	{"a value on the next line",
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot:\n"
	 "    combi # there\n",
	 {"supply/hot=unvented"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot:\n"
	 "    unvented # there\n"},
	{"a value over two lines",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        name: left of\n"
	 "          the door   # c\n",
	 {"k/name=right"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        name: right   # c\n"},
	{"a value below |, with a comment",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        name: |   # c\n"
	 "          left\n"
	 "          of the door\n"
	 "\n"
	 "        seen: yes\n",
	 {"k/name=right"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        name: right   # c\n"
	 "\n"
	 "        seen: yes\n"},
	{"lines below | stay lines",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        name: |-\n"
	 "            left\n"
	 "            of the door\n"
	 "        seen: yes\n",
	 {"k/name=a\n\nb"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        name: |-\n"
	 "            a\n"
	 "\n"
	 "            b\n"
	 "        seen: yes\n"},
	{"a value below >",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        name: >\n"
	 "          left\n"
	 "          of\n"
	 "\n"
	 "\n",
	 {"k/name=right"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        name: right\n"
	 "\n"
	 "\n"},
	{"nothing after the colon",
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot:   # ask\n"
	 "  heating:\n",
	 {"supply/hot=unvented", "supply/heating=none"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: unvented   # ask\n"
	 "  heating: none\n"},
	{"a bare key in brackets",
	 "tundish: 1\n"
	 "supply: { hot, heating : none }\n",
	 {"supply/hot=unvented"},
	 "tundish: 1\n"
	 "supply: { hot: unvented, heating : none }\n"},
	{"nothing after a colon in brackets",
	 "tundish: 1\n"
	 "supply: { hot: , heating: none }\n",
	 {"supply/hot=unvented"},
	 "tundish: 1\n"
	 "supply: { hot: unvented , heating: none }\n"},
	{"several become one, on lines",
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: # c\n"
	 "    - combi\n"
	 "    - none # d\n"
	 "  heating: none\n",
	 {"supply/hot=unvented"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: unvented # c\n"
	 "  # d\n"
	 "  heating: none\n"},
	{"one becomes several",
	 "tundish: 1\n"
	 "supply: { hot: combi }\n",
	 {"supply/hot=combi, none"},
	 "tundish: 1\n"
	 "supply: { hot: [combi, none] }\n"},
	{"text with a comma is no list",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        name: x\n",
	 {"k/name=left, right"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        name: left, right\n"},
	{"a key in the order of asking",
	 "tundish: 1\n"
	 "supply:\n"
	 "  supply_shared: no\n"
	 "  hot: combi # c\n",
	 {"supply/heating=none", "supply/stop_valve=works"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  supply_shared: no\n"
	 "  stop_valve: works\n"
	 "  hot: combi # c\n"
	 "  heating: none\n"},
	{"a key before all others",
	 "tundish: 1\n"
	 "supply:\n"
	 "  # first\n"
	 "  hot: combi\n",
	 {"supply/supply_shared=no"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  # first\n"
	 "  supply_shared: no\n"
	 "  hot: combi\n"},
	{"a key before the first after a dash",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - kind: other\n"
	 "        ref: k\n",
	 {"k/name=x"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - kind: other\n"
	 "        name: x\n"
	 "        ref: k\n"},
	{"a key at the end of the text",
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: combi",
	 {"supply/heating=none"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: combi\n"
	 "  heating: none"},
	{"a key after | with blank lines of its own",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        why_not_seen: |+\n"
	 "          a\n"
	 "\n"
	 "\n"
	 "      # c\n",
	 {"k/installed=2006"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        why_not_seen: |+\n"
	 "          a\n"
	 "\n"
	 "\n"
	 "        installed: 2006\n"
	 "      # c\n"},
	{"a key after | at the end of the text",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        why_not_seen: |\n"
	 "          a",
	 {"k/installed=2006"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        why_not_seen: |-\n"
	 "          a\n"
	 "        installed: 2006"},
	{"a key in brackets",
	 "tundish: 1\n"
	 "supply: { hot: combi }\n",
	 {"supply/supply_shared=no", "supply/heating=none"},
	 "tundish: 1\n"
	 "supply: { supply_shared: no, hot: combi, heating: none }\n"},
	{"a key in tight brackets",
	 "tundish: 1\n"
	 "supply: {hot: combi,heating: none}\n",
	 {"supply/supply_shared=no", "supply/stop_valve=works"},
	 "tundish: 1\n"
	 "supply: {supply_shared: no,stop_valve: works,hot: combi,heating: none}\n"},
	{"a key in brackets over lines",
	 "tundish: 1\n"
	 "supply: {\n"
	 "    hot: combi, # c\n"
	 "    heating: none, # d\n"
	 "  }\n",
	 {"supply/supply_shared=no"},
	 "tundish: 1\n"
	 "supply: {\n"
	 "    supply_shared: no,\n"
	 "    hot: combi, # c\n"
	 "    heating: none, # d\n"
	 "  }\n"},
	{"a key after the last in brackets over lines",
	 "tundish: 1\n"
	 "supply: {\n"
	 "    supply_shared: no, # c\n"
	 "    hot: combi # d\n"
	 "  }\n",
	 {"supply/heating=none", "supply/stop_valve=works"},
	 "tundish: 1\n"
	 "supply: {\n"
	 "    supply_shared: no, # c\n"
	 "    stop_valve: works,\n"
	 "    hot: combi, # d\n"
	 "    heating: none\n"
	 "  }\n"},
	{"a key into empty brackets",
	 "tundish: 1\n"
	 "supply: {} # c\n",
	 {"supply/heating=none"},
	 "tundish: 1\n"
	 "supply: # c\n"
	 "  heating: none\n"},
	{"a key into nothing",
	 "tundish: 1\n"
	 "supply: # c\n"
	 "rooms: [] # d\n",
	 {"supply/heating=none", "rooms/a="},
	 "tundish: 1\n"
	 "supply: # c\n"
	 "  heating: none\n"
	 "rooms: # d\n"
	 "  - ref: a\n"},
	{"a map that was not there",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        x-a: 1\n",
	 {"k/answers/spout=fixed", "k/undertaker_says/category=3"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        answers: { spout: fixed }\n"
	 "        undertaker_says: { category: 3 }\n"
	 "        x-a: 1\n"},
	{"a key goes, its comment stays",
	 "tundish: 1\n"
	 "supply:\n"
	 "  # above\n"
	 "  hot: combi # beside\n"
	 "  heating: none\n",
	 {"supply/hot"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  # above\n"
	 "  # beside\n"
	 "  heating: none\n"},
	{"the last key goes",
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: combi\n"
	 "  heating: none",
	 {"supply/heating"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: combi"},
	{"the last keys go, one comes after",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        answers:\n"
	 "          spout: fixed\n"
	 "        count: 3\n",
	 {"k/answers/spout", "k/count", "k/undertaker_says/category=2"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        undertaker_says: { category: 2 }\n"},
	{"the first key after a dash goes",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - name: x\n"
	 "        seen: yes\n"
	 "        ref: k\n",
	 {"k/name"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - seen: yes\n"
	 "        ref: k\n"},
	{"the first two keys after a dash go",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - name: x\n"
	 "        seen: yes\n"
	 "        ref: k\n",
	 {"k/name", "k/seen"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"},
	{"the first key after a dash goes from above a comment",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - name: x # c\n"
	 "        # d\n"
	 "        ref: k\n",
	 {"k/name"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      -  # c\n"
	 "        # d\n"
	 "        ref: k\n"},
	{"a key goes from brackets: the first",
	 "tundish: 1\n"
	 "supply: { hot: combi, heating: none }\n",
	 {"supply/hot"},
	 "tundish: 1\n"
	 "supply: { heating: none }\n"},
	{"a key goes from brackets: the last",
	 "tundish: 1\n"
	 "supply: { hot: combi, heating: none, }\n",
	 {"supply/heating"},
	 "tundish: 1\n"
	 "supply: { hot: combi, }\n"},
	{"a key goes from brackets with a comment",
	 "tundish: 1\n"
	 "supply: {\n"
	 "    hot: combi, # c\n"
	 "    heating: none # d\n"
	 "  }\n",
	 {"supply/heating"},
	 "tundish: 1\n"
	 "supply: {\n"
	 "    hot: combi, # c\n"
	 "     # d\n"
	 "  }\n"},
	{"a key goes with its |",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        name: |\n"
	 "          a\n"
	 "\n"
	 "        seen: yes\n",
	 {"k/name"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "\n"
	 "        seen: yes\n"},
	{"all known keys go, theirs stays",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        answers: { spout: fixed, x-a: 1 }\n",
	 {"k/answers/spout"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        answers: { x-a: 1 }\n"},
	{"a map goes with its last key",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        answers:\n"
	 "          spout: fixed\n"
	 "        count: 3\n",
	 {"k/answers/spout"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        count: 3\n"},
	{"an inlet of which nothing is said stays",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        inlets: { cold: { fed_by: main }, hot: { fed_by: main } }\n",
	 {"k/inlets/cold/fed_by", "k/inlets/hot"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        inlets: { cold: {} }\n"},
	{"an inlet goes with what is theirs in it",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        inlets:\n"
	 "          cold: { fed_by: main, x-a: 1 }\n"
	 "          hot:\n"
	 "            x-b: 1\n"
	 "            fed_by: main\n",
	 {"k/inlets/cold", "k/inlets/hot/fed_by"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        inlets:\n"
	 "          hot:\n"
	 "            x-b: 1\n"},
	{"protection: nothing becomes a list",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        inlets:\n"
	 "          cold: { protection: nothing }\n",
	 {"k/inlets/cold/protection/d=", "d/type=EB"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        inlets:\n"
	 "          cold: { protection: [ { ref: d, type: EB } ] }\n"},
	{"a list of protections becomes nothing",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        inlets:\n"
	 "          cold:\n"
	 "            protection: # c\n"
	 "              - ref: d # e\n"
	 "                type: EB\n",
	 {"k/inlets/cold/protection/d", "k/inlets/cold/protection=nothing"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        inlets:\n"
	 "          cold:\n"
	 "            protection: nothing # c\n"},
	{"what is said on the point stays there",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: other\n"
	 "        fed_by: main\n",
	 {"k/inlets/feed/fed_by=cannot_tell", "k/inlets/feed/protection=nothing"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: other\n"
	 "        fed_by: cannot_tell\n"
	 "        protection: nothing\n"},
	{"what is said on the point goes",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: other\n"
	 "        fed_by: main\n"
	 "        protection: nothing\n"
	 "        seen: no\n",
	 {"k/inlets/feed"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: other\n"
	 "        seen: no\n"},
	{"a new one looks as its siblings: lines",
	 "tundish: 1\n"
	 "branches:\n"
	 "  - ref: a\n"
	 "    from: main\n",
	 {"branches/b=a", "b/from=a"},
	 "tundish: 1\n"
	 "branches:\n"
	 "  - ref: a\n"
	 "    from: main\n"
	 "  - ref: b\n"
	 "    from: a\n"},
	{"a new one looks as its siblings: brackets",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - { ref: k, seen: yes }\n",
	 {"r/points/l=k", "l/kind=other"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - { ref: k, seen: yes }\n"
	 "      - { ref: l, kind: other }\n"},
	{"a new one in a spaced list",
	 "tundish: 1\n"
	 "branches:\n"
	 "  - { ref: a }\n"
	 "\n"
	 "  # second\n"
	 "  - { ref: b }\n"
	 "# end\n",
	 {"branches/c=b", "branches/d=a"},
	 "tundish: 1\n"
	 "branches:\n"
	 "  - { ref: a }\n"
	 "\n"
	 "  - { ref: d }\n"
	 "\n"
	 "  # second\n"
	 "  - { ref: b }\n"
	 "\n"
	 "  - { ref: c }\n"
	 "# end\n"},
	{"a new one after a deeper comment",
	 "tundish: 1\n"
	 "branches:\n"
	 "  - ref: a\n"
	 "    from: main\n"
	 "    # more to say\n",
	 {"branches/b=a"},
	 "tundish: 1\n"
	 "branches:\n"
	 "  - ref: a\n"
	 "    from: main\n"
	 "    # more to say\n"
	 "  - ref: b\n"},
	{"a list at its key's column",
	 "tundish: 1\n"
	 "branches:\n"
	 "- ref: a\n"
	 "- ref: b\n"
	 "supply: {}\n",
	 {"branches/c=b", "a/name=x"},
	 "tundish: 1\n"
	 "branches:\n"
	 "- ref: a\n"
	 "  name: x\n"
	 "- ref: b\n"
	 "- ref: c\n"
	 "supply: {}\n"},
	{"a list with wide dashes",
	 "tundish: 1\n"
	 "branches:\n"
	 "    -   ref: a\n",
	 {"branches/b=", "a/name=x"},
	 "tundish: 1\n"
	 "branches:\n"
	 "    -   ref: b\n"
	 "    -   ref: a\n"
	 "        name: x\n"},
	{"one goes from a list",
	 "tundish: 1\n"
	 "branches:\n"
	 "  - ref: a\n"
	 "  # about b\n"
	 "  - ref: b # c\n"
	 "    from: a\n"
	 "  - ref: d\n",
	 {"branches/b"},
	 "tundish: 1\n"
	 "branches:\n"
	 "  - ref: a\n"
	 "  # about b\n"
	 "  - ref: d\n"},
	{"the only one goes",
	 "tundish: 1\n"
	 "branches:\n"
	 "  - ref: a # c\n"
	 "rooms: []\n",
	 {"branches/a"},
	 "tundish: 1\n"
	 "# c\n"
	 "rooms: []\n"},
	{"the only one in brackets with a comma goes",
	 "tundish: 1\n"
	 "branches:\n"
	 "  [ { ref: a }, ]\n"
	 "rooms: []\n",
	 {"branches/a"},
	 "tundish: 1\n"
	 "rooms: []\n"},
	{"another in place of the only one",
	 "tundish: 1\n"
	 "branches:\n"
	 "  - ref: a\n",
	 {"branches/a", "branches/b="},
	 "tundish: 1\n"
	 "branches:\n"
	 "  - ref: b\n"},
	{"order in lines: with unknown keys and comments",
	 "tundish: 1\n"
	 "branches:\n"
	 "  - ref: a # one\n"
	 "    x-a: 1\n"
	 "    # in it\n"
	 "  # about b\n"
	 "  - ref: b\n"
	 "    x-b: |\n"
	 "      mine\n"
	 "  - ref: c\n",
	 {"branches/a=c", "a/name=x"},
	 "tundish: 1\n"
	 "branches:\n"
	 "  # about b\n"
	 "  - ref: b\n"
	 "    x-b: |\n"
	 "      mine\n"
	 "  - ref: c\n"
	 "  - ref: a # one\n"
	 "    name: x\n"
	 "    x-a: 1\n"
	 "    # in it\n"},
	{"order in brackets: with unknown keys",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        inlets: { cold: { protection: [ { ref: d, type: EB, x-a: 1 }, { ref: e, type: ED } ] } }\n",
	 {"k/inlets/cold/protection/d=e", "d/fitted=2019"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        inlets: { cold: { protection: [ { ref: e, type: ED }, { ref: d, type: EB, fitted: 2019, x-a: 1 } ] } }\n"},
	{"to another room, at another column",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      # about k\n"
	 "      - ref: k\n"
	 "        x-a: # c\n"
	 "          - 1\n"
	 "        name: |\n"
	 "          a\n"
	 "           b\n"
	 "  - ref: s\n"
	 "    points:\n"
	 "    -   ref: m\n",
	 {"r/points/k", "s/points/k=m", "k/name=a\n b\n"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "  - ref: s\n"
	 "    points:\n"
	 "    -   ref: m\n"
	 "    # about k\n"
	 "    - ref: k\n"
	 "      x-a: # c\n"
	 "        - 1\n"
	 "      name: |\n"
	 "        a\n"
	 "         b\n"},
	{"to another kind, with what stands on its protection",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: other\n"
	 "        protection: [ { ref: d, x-a: 1, type: EB } ]\n",
	 {"k/kind=kitchen_mixer",
	  "k/inlets/feed",
	  "k/inlets/cold=",
	  "k/inlets/cold/protection/d=",
	  "d/type=EB"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        inlets:\n"
	 "          cold: { protection: [ { ref: d, x-a: 1, type: EB } ] }\n"},
	{"CRLF stays",
	 "tundish: 1\r\n"
	 "supply:\r\n"
	 "  hot: combi # c\r\n"
	 "\r\n"
	 "rooms: []\r\n",
	 {"supply/heating=none", "rooms/r="},
	 "tundish: 1\r\n"
	 "supply:\r\n"
	 "  hot: combi # c\r\n"
	 "  heating: none\r\n"
	 "\r\n"
	 "rooms:\r\n"
	 "  - ref: r\r\n"},
	{"a BOM stays",
	 "\xef""\xbb""\xbf""tundish: 1\n"
	 "supply:\n"
	 "  hot: combi\n",
	 {"supply/heating=none"},
	 "\xef""\xbb""\xbf""tundish: 1\n"
	 "supply:\n"
	 "  hot: combi\n"
	 "  heating: none\n"},
	{"JSON stays JSON",
	 "{\"tundish\": 1, \"supply\": {\"hot\": \"combi\"}, \"rooms\": []}\n",
	 {"supply/static_pressure_kpa=320", "rooms/r=", "supply/hot=none"},
	 "{\"tundish\": 1, \"supply\": {\"static_pressure_kpa\": 320, \"hot\": \"none\"}, \"rooms\": [ { \"ref\": \"r\" } ]}\n"},
	{"a number in another unit stays as it was",
	 "tundish: 1\n"
	 "supply:\n"
	 "  static_pressure_kpa: 3.2 bar\n"
	 "  hot: combi\n",
	 {"supply/hot=none"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  static_pressure_kpa: 3.2 bar\n"
	 "  hot: none\n"},
	{"yes as another tool wrote it stays",
	 "tundish: 1\n"
	 "supply:\n"
	 "  supply_shared: true\n"
	 "  hot: combi\n",
	 {"supply/hot=none"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  supply_shared: true\n"
	 "  hot: none\n"},
	{"comments alone",
	 "# mine\n"
	 "\n",
	 {"supply/hot=none"},
	 "# mine\n"
	 "\n"
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: none\n"},
	{"three dashes and three dots",
	 "---\n"
	 "tundish: 1\n"
	 "...\n",
	 {"supply/hot=none"},
	 "---\n"
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: none\n"
	 "...\n"},
	{"a version line",
	 "%YAML 1.2 # c\n"
	 "---\n"
	 "tundish: 1\n",
	 {"supply/hot=none"},
	 "%YAML 1.2 # c\n"
	 "---\n"
	 "tundish: 1\n"
	 "supply:\n"
	 "  hot: none\n"},
	{"line breaks of 1.1 in comments",
	 "# a\xe2""\x80""\xa8""# b\n"
	 "tundish: 1 # \xc3""\xa9""\n",
	 {"supply/hot=none"},
	 "# a\xe2""\x80""\xa8""# b\n"
	 "tundish: 1 # \xc3""\xa9""\n"
	 "supply:\n"
	 "  hot: none\n"},
	{"unknown keys and amendments",
	 "tundish: 1\n"
	 "supply:\n"
	 "  x-a: { b: [1, 2] }\n"
	 "  hot: combi\n"
	 "amendments:\n"
	 "  - { who: me }\n"
	 "x-b: |\n"
	 "  text\n",
	 {"supply/hot=none"},
	 "tundish: 1\n"
	 "supply:\n"
	 "  x-a: { b: [1, 2] }\n"
	 "  hot: none\n"
	 "amendments:\n"
	 "  - { who: me }\n"
	 "x-b: |\n"
	 "  text\n"},
	{"a new file",
	 "",
	 {"premises/name=No 7: left",
	  "premises/nation=england",
	  "supply/static_pressure_kpa=320",
	  "supply/protection/w=",
	  "w/type=BA",
	  "parts/flat=",
	  "flat/use=house",
	  "branches/cold=",
	  "cold/from=main",
	  "rooms/r=",
	  "r/seen=yes",
	  "r/points/k=",
	  "k/kind=kitchen_mixer",
	  "k/name=no",
	  "k/inlets/cold=",
	  "k/inlets/cold/fed_by=main, cold",
	  "k/inlets/cold/protection/d=",
	  "d/type=EC",
	  "d/tests/t=",
	  "t/date=2024-05-02",
	  "k/inlets/hot=cold",
	  "k/inlets/hot/protection=cannot_tell",
	  "k/undertaker_says/category=3",
	  "k/answers/spout=fixed, pull_out",
	  "k/action_taken/a=",
	  "a/what=told",
	  "a/when=2026-11-25"},
	 "tundish: 1\n"
	 "premises:\n"
	 "  name: 'No 7: left'\n"
	 "  nation: england\n"
	 "  parts:\n"
	 "    - { ref: flat, use: house }\n"
	 "supply:\n"
	 "  static_pressure_kpa: 320\n"
	 "  protection: [ { ref: w, type: BA } ]\n"
	 "branches:\n"
	 "  - { ref: cold, from: main }\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    seen: yes\n"
	 "    points:\n"
	 "      - ref: k\n"
	 "        kind: kitchen_mixer\n"
	 "        name: 'no'\n"
	 "        inlets:\n"
	 "          cold: { fed_by: [main, cold], protection: [ { ref: d, type: EC, tests: [ { ref: t, date: 2024-05-02 } ] } ] }\n"
	 "          hot: { protection: cannot_tell }\n"
	 "        answers: { spout: [fixed, pull_out] }\n"
	 "        undertaker_says: { category: 3 }\n"
	 "        action_taken: [ { ref: a, what: told, when: 2026-11-25 } ]\n"},
	{"what is new on the premises stands below their ref",
	 "tundish: 1\n"
	 "premises:\n"
	 "  ref: p   # theirs\n",
	 {"premises/name=x"},
	 "tundish: 1\n"
	 "premises:\n"
	 "  ref: p   # theirs\n"
	 "  name: x\n"},
	{"lines go with their comments into a room that has no points",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "      # above\n"
	 "      - ref: k\n"
	 "        # mine\n"
	 "        x-a: 1\n"
	 "        kind: other   # beside\n"
	 "          # below\n"
	 "  - ref: s\n",
	 {"r/points/k", "s/points/k=", "k/kind=other"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: r\n"
	 "  - ref: s\n"
	 "    points:\n"
	 "      # above\n"
	 "      - ref: k\n"
	 "        # mine\n"
	 "        x-a: 1\n"
	 "        kind: other   # beside\n"
	 "          # below\n"},
	{"and where its brackets are empty",
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: s\n"
	 "    points: [ ]   # none yet\n"
	 "  - ref: r\n"
	 "    points:\n"
	 "        - ref: k\n"
	 "          seen: yes   # all of it\n",
	 {"r/points/k", "s/points/k=", "k/seen=no"},
	 "tundish: 1\n"
	 "rooms:\n"
	 "  - ref: s\n"
	 "    points:   # none yet\n"
	 "      - ref: k\n"
	 "        seen: no   # all of it\n"
	 "  - ref: r\n"},
	{"an item in brackets goes into empty ones as it is",
	 "tundish: 1\n"
	 "rooms: [ { ref: r, points: [ { ref: k, x-a: [1] } ] }, { ref: s, points: [] } ]\n",
	 {"r/points/k", "s/points/k="},
	 "tundish: 1\n"
	 "rooms: [ { ref: r }, { ref: s, points: [ { ref: k, x-a: [1] } ] } ]\n"},
