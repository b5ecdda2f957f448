using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Knownwater.Architecture.Tests;

/// <summary>One place in compiled code that refers to a type, and to a member of it where it does.</summary>
/// <param name="User">The outermost type that refers; closures and state machines count as the type that holds them.</param>
/// <param name="Room">Namespace of that type.</param>
/// <param name="Type">Full name of the type referred to.</param>
/// <param name="Namespace">Namespace of the type referred to.</param>
/// <param name="Member">Name of the member referred to, with its number of parameters, as “Now”, “Random(0)”; null for the type alone.</param>
internal sealed record Reference(string User, string Room, string Type, string Namespace, string? Member)
{
    public override string ToString() => Member is null ? $"{User} uses {Type}" : $"{User} uses {Type}.{Member}";
}

/// <summary>Reads what compiled code refers to: signatures, bodies and attributes.</summary>
internal static class CompiledCode
{
    /// <summary>Every reference in an assembly of the house that lies beside these tests.</summary>
    public static IReadOnlyList<Reference> Of(string assembly)
    {
        using var read = AssemblyDefinition.ReadAssembly(Path.Combine(AppContext.BaseDirectory, assembly + ".dll"));
        return [.. read.MainModule.Types.SelectMany(type => References(type, type)).Distinct()];
    }

    /// <summary>Names of the assemblies that an assembly of the house refers to.</summary>
    public static IReadOnlyList<string> AssembliesBehind(string assembly)
    {
        using var read = AssemblyDefinition.ReadAssembly(Path.Combine(AppContext.BaseDirectory, assembly + ".dll"));
        return [.. read.MainModule.AssemblyReferences.Select(reference => reference.Name)];
    }

    /// <summary>Texts written in the bodies of an assembly's methods, each with the type that holds it.</summary>
    public static IReadOnlyList<(string User, string Text)> Texts(string assembly)
    {
        using var read = AssemblyDefinition.ReadAssembly(Path.Combine(AppContext.BaseDirectory, assembly + ".dll"));
        return
        [
            .. read.MainModule.Types.SelectMany(type => WithNested(type).SelectMany(inner => inner.Methods)
                .Where(method => method.HasBody)
                .SelectMany(method => method.Body.Instructions)
                .Where(instruction => instruction.OpCode == OpCodes.Ldstr)
                .Select(instruction => (type.FullName, (string)instruction.Operand))),
        ];
    }

    private static IEnumerable<TypeDefinition> WithNested(TypeDefinition type) => type.NestedTypes.SelectMany(WithNested).Prepend(type);

    private static IEnumerable<Reference> References(TypeDefinition outermost, TypeDefinition type)
    {
        var types = new List<TypeReference?> { type.BaseType };
        types.AddRange(type.Interfaces.Select(i => i.InterfaceType));
        types.AddRange(type.CustomAttributes.Select(a => a.AttributeType));
        types.AddRange(type.GenericParameters.SelectMany(p => p.Constraints).Select(c => c.ConstraintType));
        types.AddRange(type.Fields.Select(f => f.FieldType));
        types.AddRange(type.Properties.Select(p => p.PropertyType));
        var members = new List<MemberReference>();
        foreach (var method in type.Methods)
        {
            types.Add(method.ReturnType);
            types.AddRange(method.Parameters.Select(p => p.ParameterType));
            types.AddRange(method.CustomAttributes.Select(a => a.AttributeType));
            types.AddRange(method.GenericParameters.SelectMany(p => p.Constraints).Select(c => c.ConstraintType));
            if (!method.HasBody)
                continue;
            types.AddRange(method.Body.Variables.Select(v => v.VariableType));
            types.AddRange(method.Body.ExceptionHandlers.Select(h => h.CatchType));
            foreach (var operand in method.Body.Instructions.Select(i => i.Operand))
            {
                if (operand is TypeReference named)
                {
                    types.Add(named);
                }
                else if (operand is MemberReference member)
                {
                    members.Add(member);
                    types.Add(member.DeclaringType);
                    if (member is GenericInstanceMethod generic)
                        types.AddRange(generic.GenericArguments);
                    if (member is MethodReference called)
                        types.AddRange(called.Parameters.Select(p => p.ParameterType).Append(called.ReturnType));
                    if (member is FieldReference field)
                        types.Add(field.FieldType);
                }
            }
        }

        Reference To(TypeReference target, string? member) => new(outermost.FullName, outermost.Namespace, target.FullName, Outermost(target).Namespace, member);
        foreach (var target in types.SelectMany(Parts))
            yield return To(target, null);
        foreach (var member in members)
        {
            if (member.DeclaringType is { } owner)
                yield return To(owner.GetElementType(), NameOf(member));
        }
        foreach (var reference in type.NestedTypes.SelectMany(nested => References(outermost, nested)))
            yield return reference;
    }

    private static string NameOf(MemberReference member) => member switch
    {
        MethodReference { Name: ".ctor" } made => $"new({made.Parameters.Count})",
        MethodReference called when called.Name.StartsWith("get_", StringComparison.Ordinal) => called.Name[4..],
        _ => member.Name,
    };

    private static TypeReference Outermost(TypeReference type) => type.DeclaringType is { } outer ? Outermost(outer) : type;

    private static IEnumerable<TypeReference> Parts(TypeReference? type)
    {
        if (type is null or GenericParameter)
            yield break;
        if (type is GenericInstanceType generic)
        {
            foreach (var part in generic.GenericArguments.SelectMany(Parts))
                yield return part;
        }
        var element = type.GetElementType();
        if (element is not GenericParameter)
            yield return element;
    }
}
