"""``portloom completion``: the script that lets a shell ask this program what may come next at the Tab key.

Each script hands on the line up to where Tab was pressed, and takes a word a line, with what it is after a tab.
"""

from types import MappingProxyType

BASH = """\
_portloom_next() {
    local word cut='' open=''
    if [ "${COMP_WORDS[COMP_CWORD-1]}" = = ] || [ "${COMP_WORDS[COMP_CWORD]}" = = ]; then cut=1; fi
    COMPREPLY=()
    while IFS=$'\\t' read -r word _; do
        case "$word" in
            */) word="${word%/}" ;;
            *=) open=1 ;;
        esac
        if [ -n "$cut" ]; then word="${word#*=}"; fi
        COMPREPLY+=("$word")
    done < <("$1" complete "${COMP_LINE:0:COMP_POINT}" 2>/dev/null)
    if [ -n "$open" ]; then compopt -o nospace; fi
}
complete -o filenames -F _portloom_next portloom
"""
ZSH = """\
_portloom_next() {
    local word says
    local -a closed closed_says open open_says
    while IFS=$'\\t' read -r word says; do
        case "$word" in
            */|*=) open+=("$word"); open_says+=("$word") ;;
            *) closed+=("$word"); closed_says+=("${word}${says:+  -- $says}") ;;
        esac
    done < <("$words[1]" complete "${(j: :)words[1,CURRENT]}" 2>/dev/null)
    (( $#open )) && compadd -S '' -d open_says -a open
    (( $#closed )) && compadd -l -d closed_says -a closed
}
compdef _portloom_next portloom
"""
FISH = """\
function __portloom_next
    command portloom complete (commandline -cp | string collect) 2>/dev/null
end
complete --command portloom --no-files --arguments '(__portloom_next)'
"""
POWERSHELL = """\
Register-ArgumentCompleter -Native -CommandName portloom -ScriptBlock {
    param($word, $ast, $cursor)
    $line = $ast.ToString()
    if ($line.Length -lt $cursor) { $line = $line.PadRight($cursor) } else { $line = $line.Substring(0, $cursor) }
    & portloom complete $line 2>$null | ForEach-Object {
        $next, $says = $_ -split "`t", 2
        $text = if ($next -match '\\s') { "'" + $next.Replace("'", "''") + "'" } else { $next }
        if (-not $says) { $says = $next }
        [System.Management.Automation.CompletionResult]::new($text, $next, 'ParameterValue', $says)
    }
}
"""
SHELLS = MappingProxyType({"bash": BASH, "zsh": ZSH, "fish": FISH, "powershell": POWERSHELL})
"""The script for each shell, by its name."""
