#!/bin/sh
# Signing off and amending: from the first walk to a file that another changed, and signed by a program made for it.
. "$(dirname "$0")/lib.sh"
cd "$work" || exit 1

# Arguments: the lines to be typed, then those of tundish.
typed() {
	printf "$1" >script
	shift
	"$tundish" "$@" <script >out 2>err
	status=$?
}
chain() {
	run faults --chain house.yaml
	sed '/^What a chain/,$d' out >said
}

cat >house.yaml <<'Y'
# mine
tundish: 1
premises: { surveyor: A. Sample }
rooms:
  - ref: kitchen
    points:
      - { ref: K1, kind: kitchen_mixer, seen: yes }   # by the window
Y
cp house.yaml draft.yaml
run amend --who B --why C house.yaml
check_status 'what is not signed off is not amended' 2
check 'says how to change it' err_says 'it is not signed off: `tundish walk` changes it'

before=$(date -u +%Y-%m-%dT%H:%M:%SZ)
typed 'leaving\nj 5\n2026-11-25\ns\nq\n' walk --plain house.yaml
check_status 'signing off in a walk' 0
check 'the day is there' grep -q 'signed_off: 2026-11-25' house.yaml
chain
check_status 'the chain' 0
check 'has one amendment' grep -q '^house.yaml: amendments 1, the chain holds; head [0-9a-f]\{64\}$' said
check 'by the surveyor' grep -qx '    who: A. Sample' house.yaml
{ echo "$before"; sed -n "s/^    at: '\(.*\)'$/\1/p" house.yaml; date -u +%Y-%m-%dT%H:%M:%SZ; } >times
check 'at this time, in UTC' sort -c times
check 'which was read' [ "$(wc -l <times)" -eq 3 ]
check 'comments are as they were' [ "$(grep -c '# mine$\|# by the window$' house.yaml)" -eq 2 ]

cp house.yaml signed.yaml
cp draft.yaml house.yaml
typed 'leaving\nj 5\n2026-11-25\ns\nj 2\nthe owner\ns\nq\n' walk --plain house.yaml
check_status 'more said in the walk that signed off' 0
run history house.yaml
check 'is an amendment of the surveyor' out_says 'A. Sample: in the walk in which it was signed off'
check 'with what was said' out_says 'premises/present: the owner, was not answered'
cp signed.yaml house.yaml
typed 'leaving\nj 2\nthe owner\ns\nq\n' walk --plain house.yaml
check 'a walk now only looks at it' grep -q 'It is signed off: read-only' out
check 'and leaves it alone' cmp house.yaml signed.yaml

typed 'C. Auditor\n\nlooked: again\nleaving\nj 2\nthe owner\ns\nq\n' amend --plain house.yaml
check_status 'an amendment' 0
check 'asks who' grep -qx 'Who amends it? C. Auditor' out
check 'and why, until somebody says' [ "$(grep -c '^Why?' out)" -eq 2 ]
check 'in the order of a session' [ "$(grep -n '^Why? looked: again' out | cut -d: -f1)" -lt "$(grep -n '== before leaving' out | head -1 | cut -d: -f1)" ]
check 'tells the head at the end' grep -q "^Amendments 2, head $(sed -n 's/^    head: //p' house.yaml | tail -1 | tr -d "'")$" out
chain
check_status 'the chain of two' 0
check 'holds' grep -q 'amendments 2, the chain holds' said
run history house.yaml
check 'who and why' out_says 'C. Auditor: looked: again'
check 'what' out_says 'premises/present: the owner, was not answered'
check 'the first one was not touched' [ "$(sed -n '/sequence: 1/,/sequence: 2/p' house.yaml | sed '$d')" = "$(sed -n '/sequence: 1/,$p' signed.yaml)" ]

# Two saves are two amendments; who and why may be given. Nothing changed is none.
typed 'leaving\nj 2\nnobody\ns\nj 3\nthe loft\ns\nq\n' amend --plain --who D --why once house.yaml
check_status 'two saves' 0
check 'nothing was asked' [ "$(grep -c '^Who amends\|^Why?' out)" -eq 0 ]
check 'are two' out_says 'Amendments 4, head '
cp house.yaml four.yaml
typed 'q\n' amend --plain --who D --why once house.yaml
check_status 'nothing changed' 0
check 'the file is as it was' cmp house.yaml four.yaml

# Without somebody to answer.
run amend house.yaml
check_status 'nobody to ask' 2
typed 'D\n' amend --plain house.yaml
check_status 'no reason' 2
run amend --plain --who D --why ' ' house.yaml
check_status 'an empty reason' 2
check 'the file is as it was' cmp house.yaml four.yaml
run amend - --who D --why once
check_status 'standard input' 2

# Changed outside.
sed -i 's/kind: kitchen_mixer, seen: yes/kind: kitchen_mixer, seen: part/' house.yaml
cp house.yaml outside.yaml
run amend --plain --who D --why once house.yaml
check_status 'must be adopted first' 3
check 'says so' err_says 'it was changed outside tundish, and no amendment says so'
printf 'tundish-lock-1\nwho: kim\nhost: van.example\npid: 4711\nsince: 2026-11-25T09:12:03Z\n' >.house.yaml.lock
cp house.yaml locked.yaml
run amend --adopt --who E --why 'my own hand' house.yaml
check_status 'where somebody has it open' 4
check 'is left alone' cmp house.yaml locked.yaml
check 'and so is their lock' grep -q van.example .house.yaml.lock
rm .house.yaml.lock
run amend --adopt --who E --why 'my own hand' house.yaml
check_status 'adopted' 0
check 'tells the head' out_says 'Amendments 5, head '
check 'what stood before is not touched' cmp -n "$(wc -c <outside.yaml)" house.yaml outside.yaml
chain
check_status 'the chain after it' 0
run history house.yaml
check 'is part of the story' out_says 'took over what was changed outside tundish'
run amend --adopt --who E --why again house.yaml
check_status 'nothing left to adopt' 2

# Signed off by hand, with no chain.
sed 's/surveyor: A. Sample/signed_off: 2026-11-25/' draft.yaml >house.yaml
run amend --adopt --who E --why 'it was signed on paper' house.yaml
check_status 'a chain begun late' 0
chain
check_status 'holds' 0

# A broken chain is not written to.
sed 's/why: it was/why: it is/' house.yaml >broken.yaml
cp broken.yaml house.yaml
run amend --adopt --who E --why again house.yaml
check_status 'a broken chain' 3
check 'its place' err_says 'amendment 1 is where the chain breaks'
check 'is left alone' cmp house.yaml broken.yaml

# Detached signatures, as docs/survey.md says. Needs ssh-keygen, and says so where it is not.
command -v ssh-keygen >/dev/null || { echo 'no ssh-keygen here: openssh-client'; exit 77; }
cp four.yaml house.yaml
ssh-keygen -q -t ed25519 -N '' -C test -f key && printf 'auditor %s\n' "$(cut -d' ' -f1,2 key.pub)" >signers
ssh-keygen -q -Y sign -n tundish -f key house.yaml 2>err
check 'a signature stands beside the file' [ -s house.yaml.sig ]
verify() {
	ssh-keygen -q -Y verify -n tundish -f signers -I auditor -s house.yaml.sig <house.yaml >out 2>err
}
check 'it holds' verify
sed -i 's/# mine/# ours/' house.yaml
check 'and sees more than a chain: a comment' sh -c '! ssh-keygen -q -Y verify -n tundish -f signers -I auditor -s house.yaml.sig <house.yaml >out 2>&1'

finish
